// The words of the page Care: its tasks, and the rows that there are to choose from.
#pragma once

#include <vector>

#include "app/backups.h"
#include "bench/pages/care/care_view.h"

namespace coilbook::bench::care_page {

[[nodiscard]] std::vector<TaskRow> task_rows(Task at);
[[nodiscard]] std::vector<ChoiceRow> backup_rows(const std::vector<app::BackupThere>& backups,
                                                 const std::string& at);
[[nodiscard]] std::vector<ChoiceRow> kind_rows(const std::string& at);
// Title, explanation, field, switches and button of the task. `is_shown`: what would change is on
// the screen already.
void put_words(View& view, const Form& form, bool is_shown);

}  // namespace coilbook::bench::care_page
