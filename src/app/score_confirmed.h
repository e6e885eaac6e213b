// How good the answers are in this catalogue: what the engine says of the coils that somebody
// confirmed, beside what they were confirmed as. The use case of `coilbook score --confirmed`.
//
// Asked is the built-in library, before it learned anything: a library that has learned from these
// coils would grade itself. A coil that was confirmed as a class of the catalogue's own is left
// out for the same reason. What remains is no blind test all the same: who confirms has mostly seen
// the program's answer before.
#pragma once

#include <array>
#include <chrono>
#include <cstddef>
#include <memory>
#include <ostream>
#include <vector>

#include "app/confirmed_coils.h"
#include "app/score_questions.h"
#include "app/table.h"
#include "app/workshop.h"
#include "identify/scoring.h"

namespace coilbook::app {

// From fewer coils than this nothing is said: with nine right of nine the truth may be 70 %.
inline constexpr std::size_t enough_to_score = 10;

struct ConfirmedScore {
    // One for each coil that was scored; 'none' is an answer like any other (score_file.h).
    std::array<std::vector<ScoredAnswer>, score_questions.size()> answers;
    std::size_t listed = 0;           // of these, confirmed as a kind of line
    std::size_t called_unlisted = 0;  // of the listed, 'unlisted' held to be the most probable
    // Confirmed, and not scored: without any reading, of a class that is not built in, and with
    // readings that are no line's.
    std::size_t without_readings = 0, of_other_classes = 0, refused = 0;

    [[nodiscard]] std::size_t scored() const { return answers[class_question].size(); }
    [[nodiscard]] bool is_enough() const { return scored() >= enough_to_score; }
};

// Scores coil after coil, so that a window can do it a little at a time.
class ConfirmedScorer {
  public:
    // All that is confirmed now, by the instruments as they are now. Throws Error where the file
    // cannot be read.
    explicit ConfirmedScorer(const Workshop& workshop, std::vector<SaidCoil> coils);
    ~ConfirmedScorer();
    ConfirmedScorer(ConfirmedScorer&&) noexcept;
    ConfirmedScorer& operator=(ConfirmedScorer&&) noexcept;

    // Goes on for about `budget`. Gives whether coils are left.
    bool go_on(std::chrono::steady_clock::duration budget);
    [[nodiscard]] const ConfirmedScore& score() const { return score_; }

  private:
    struct Judge;
    void add(const SaidCoil& coil);

    std::vector<SaidCoil> coils_;
    std::size_t next_ = 0;
    Instruments instruments_;
    std::unique_ptr<Judge> judge_;
    ConfirmedScore score_;
};

// All at once.
[[nodiscard]] ConfirmedScore score_confirmed(Workshop& workshop);

// Rows `of, measure, value, standard_error, coils` as score_file.h has them: of each question
// accuracy, mean_certainty, brier_score, log_loss, calibration_error and
// calibration_error_by_chance; of unlisted listed_called_unlisted; of all scored,
// without_readings, of_other_classes and refused. A table has a sentence where the coils are too
// few to say.
void write_confirmed_score(const ConfirmedScore& score, std::ostream& out, Format format,
                           std::size_t terminal_width = 0);

}  // namespace coilbook::app
