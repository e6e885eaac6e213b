// The page's memory between frames, and the carrying out of its commands on the open catalogue.
#pragma once

#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "app/backups.h"
#include "bench/outfit_desk.h"
#include "bench/pages/care/care_form.h"
#include "bench/pages/care/care_view.h"

namespace coilbook::bench::care_page {

class Desk : public OutfitDesk<Desk, View, Form, Command> {
  public:
    // `shared` must outlive the desk. `is_unsaved` tells whether something is typed on another page
    // and not saved. Nothing is read before the page is looked at.
    Desk(SharedBin& shared, std::function<bool()> is_unsaved)
        : OutfitDesk(shared), is_unsaved_(std::move(is_unsaved)) {}

    // The catalogue on the disk is another one now and is to be opened anew; gives, once, what is
    // to be told then.
    [[nodiscard]] std::optional<std::string> take_anew() { return std::exchange(anew_, {}); }
    void say(const std::string& words);
    // The name of a file goes into the field, where the task has use for one.
    bool take_file(const std::string& path);

  private:
    friend OutfitDesk;

    void run(const ChooseTask& command);
    void run(const StepRow& command);
    void run(const DoTask& command);
    using OutfitDesk::run;

    void read();  // after any change of the catalogue
    void back_up();
    void go_back();
    void look_through();
    void write_table();
    void take_in();
    void write_out();
    void done(const std::string& words);  // all is said, and the field is empty for the next
    // What is typed; a name alone lies beside the catalogue.
    [[nodiscard]] std::filesystem::path typed_place() const;
    // The backup or the copy that is meant; empty where none is.
    [[nodiscard]] std::filesystem::path meant() const;
    [[nodiscard]] bool is_shown() const;  // what would change is on the screen
    [[nodiscard]] View made_view();

    std::function<bool()> is_unsaved_;
    std::vector<app::BackupThere> backups_;
    std::string problem_;             // beside the field
    std::vector<std::string> lines_;  // what would change, or what was found
    Form shown_for_;  // the form that lines_ are about, where something would change
    std::optional<std::string> anew_;
};

}  // namespace coilbook::bench::care_page
