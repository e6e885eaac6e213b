#include "bench/shell/still_picture.h"

#include <imgui.h>
#include <imgui_impl_opengl3.h>

namespace coilbook::bench {

void StillPicture::take() {
    drop();
    const ImDrawData* last = ImGui::GetDrawData();
    picture_ =
        last == nullptr ? std::make_unique<ImDrawData>() : std::make_unique<ImDrawData>(*last);
    if (last == nullptr) return;  // nothing was drawn yet
    for (int at = 0; at < last->CmdListsCount; ++at) {
        lists_.push_back(last->CmdLists[at]->CloneOutput());
    }
    picture_->CmdLists = lists_.data();
}

void StillPicture::drop() {
    for (ImDrawList* each : lists_) IM_DELETE(each);
    lists_.clear();
    picture_.reset();
}

void StillPicture::paint(int width, int height) {
    if (!picture_) return;
    picture_->DisplaySize = {static_cast<float>(width), static_cast<float>(height)};
    ImGui_ImplOpenGL3_RenderDrawData(picture_.get());
}

}  // namespace coilbook::bench
