// scene/setup/workshop.hpp: who works at the press, how fast, how long, and with how many of everything. Plain data, s.
#pragma once

#include <optional>

namespace evenclose {

/// What one person takes, for one deck if nothing else is said.
struct CrewPace {
    double spread_s = 0; // glue on one glue line
    double stack_s = 0;  // the plies of a deck laid up and the mold closed on them
    double load_s = 0;   // one mold into its opening
    double unload_s = 0; // one mold out of it, and the deck out of the mold
    double close_s = 0;  // from the last mold in until the pressure is on, once a pressing
    int helpers = 0;     // beside the one who runs the press
};

struct Workshop {
    double hours_a_day = 8;
    int days_a_week = 5;
    int presses = 1;            // as this one
    std::optional<int> molds{}; // all openings and presses together; none: one for each opening of each press
    std::optional<int> racks{}; // places for decks that cure after the press; none: as many as it takes
};

/// In the shop's own money; what is left out is not counted.
struct Costs {
    std::optional<double> mold{};          // one more mold, both halves
    std::optional<double> platen{};        // one more intermediate platen with its rests
    std::optional<double> frame_a_metre{}; // of height added to the frame
    std::optional<double> press{};         // one more press as this one
    std::optional<double> hour{};          // of one person
};

} // namespace evenclose
