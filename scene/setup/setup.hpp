// scene/setup/setup.hpp: a press with a mold in each opening, and the limits the shop holds it to. Plain data.
#pragma once

#include "scene/mold/mold.hpp"
#include "scene/press/press.hpp"
#include "scene/setup/workshop.hpp"

#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace evenclose {

struct Opening {
    std::string mold_file;            // as written, relative to the set-up
    std::shared_ptr<const Mold> mold; // the same mold in several openings is one in memory
    Vec2 at_mm{0.0};                  // where the mold frame's origin stands, from the middle of the platen below it
    double turn_rad = 0;              // about Z
    int decks = 1;                    // blanks pressed one on the other in this mold; `mold` is made for so many
};

inline constexpr std::size_t kMostOpenings = 20;

/// A platen between two openings. It lies on its rest until the one below picks it up through the closed mold.
struct IntermediatePlaten {
    Platen plate;
    bool guided = true;                             // bored for the guide posts that pass through it
    std::optional<double> rest_z_mm = std::nullopt; // of its underside; none: the press's rest, else spaced evenly
};

/// What the shop asks for. Between 0 and a limit is marginal where that makes sense; each check's header says how.
struct Limits {
    double running_clearance_mm = 5.0; // least distance of parts that pass each other: go at or above, marginal above 0
    double loading_clearance_mm = 15.0;   // room over the loose sandwich for hands and mold when open
    double stroke_reserve_mm = 10.0;      // stroke left when closed
    double level_over_deck_mm = 0.5;      // how much one end of the deck may close earlier than the other
    double seat_flatness_mm = 0.3;        // how far a seat may be from a plane
    double cavity_tolerance_mm = 0.3;     // how far the closed gap may be from the stack's thickness, either way
    double least_draft_rad = 0.034906585; // 2 degrees: how far walls inside a forming face lean off the stroke at least
    double seat_overhang_mm = 0.0;        // how far a seat may stand over the platen's edge
};

struct Setup {
    std::string name;
    std::string file;
    std::string press_file;
    std::shared_ptr<const Press> press;
    std::vector<Opening> openings; // from the bottom up, kMostOpenings at most
    Limits limits;
    std::optional<double> closing_force_N =
        std::nullopt; // on the deck, that the shop means to close with; none: all that the jacks give
    std::optional<double> temperature_C = std::nullopt; // of the shop: wood, mold and glue
    std::optional<CrewPace> crew = std::nullopt;
    Workshop shop = {};
    Costs costs = {};
    std::vector<IntermediatePlaten> intermediate_platens{}; // from the bottom up, one fewer than openings
};

} // namespace evenclose
