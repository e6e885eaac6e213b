// A desk on a catalogue in memory for tests, with a scale S2 in it. All figures invented.
#pragma once

#include <doctest/doctest.h>

#include <string>

#include "app/instrument_changes.h"
#include "bench/pages/instruments/instruments_actions.h"
#include "bench/pages/instruments/instruments_desk.h"
#include "bench/shared_bin.h"
#include "store/history_repository.h"
#include "support/workshop.h"

namespace coilbook::bench::instruments_page {

inline const app::InstrumentKey scale_s2{app::InstrumentKind::scale, "S2"};

struct Bench {
    app::Workshop workshop;
    SharedBin shared;
    Desk desk;

    explicit Bench(app::Workshop opened = app::workshop_in_memory())
        : workshop(std::move(opened)), shared(workshop), desk(shared) {
        const app::MakersFigures figures{0.1 * grain, 0.2 * grain, Mass{}};
        REQUIRE(app::add_instrument(workshop, scale_s2, figures).has_value());
        shared.refresh();
        desk.look_round();
        post(ChooseInstrument{scale_s2});
    }
    template <class Posted>
    void post(Posted&& command) {
        desk.outbox().post(std::forward<Posted>(command));
        desk.act();
    }
    // By its name, as a key or the list of all actions does it.
    void perform(std::string_view action) {
        instruments_page::perform(action,
                                  {desk.view(), desk.form(), desk.outbox(), desk.instrument()});
        desk.act();
    }
    // What a person or a device types into the field at hand, with Enter behind it.
    void enter(const std::string& text) {
        Form& form = desk.form();
        const Spot spot = form.spot;
        text_at(form, spot) = text;
        switch (spot) {
            case Spot::code:
                enter_code(desk.view(), form, desk.outbox());
                break;
            case Spot::stated:
                enter_stated(form);
                break;
            case Spot::sure:
                enter_sure(form);
                break;
            case Spot::reading:
                enter_reading(form);
                break;
            case Spot::study_kind:
            case Spot::people:
            case Spot::coils:
            case Spot::times:
                enter_study_field(form, spot, desk.outbox());
                break;
            case Spot::study_reading:
                enter_study_reading(form);
                break;
            default:
                enter_figure(form, spot, desk.outbox());
                break;
        }
        desk.act();
    }
    [[nodiscard]] std::size_t acts() { return workshop.catalogue().history().list().size(); }
    [[nodiscard]] const Scale& scale() { return workshop.instruments().scales.at("S2"); }
};

}  // namespace coilbook::bench::instruments_page
