// What the window drew last, kept to be painted again while something else works on what is drawn.
#pragma once

#include <memory>
#include <vector>

struct ImDrawData;
struct ImDrawList;

namespace coilbook::bench {

class StillPicture {
  public:
    StillPicture() = default;
    ~StillPicture() { drop(); }
    StillPicture(const StillPicture&) = delete;
    StillPicture& operator=(const StillPicture&) = delete;

    // Keeps the picture of the last frame; between frames only.
    void take();
    void drop();
    [[nodiscard]] bool is_there() const { return picture_ != nullptr; }
    // Paints it into a drawing surface of that size, from its upper left corner.
    void paint(int width, int height);

  private:
    std::vector<ImDrawList*> lists_;  // our own copies
    std::unique_ptr<ImDrawData> picture_;
};

}  // namespace coilbook::bench
