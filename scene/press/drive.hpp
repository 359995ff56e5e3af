// scene/press/drive.hpp: what turns the jacks, what couples them, and what was read off the real press. Plain data.
#pragma once

#include "scene/jacks/link_shaft.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace evenclose {

/// A motor (or crank) that turns screws, or a pump that fills cylinders or hoses; one a jack, or one for several.
///
/// Several screws on one motor turn together: its tolerance makes no difference between them. Several cylinders on one
/// pump do not: oil goes where it is easiest. Its tolerance is then how unequally a flow divider shares.
struct Drive {
    std::string name;
    std::vector<std::size_t> jacks; // which it drives directly, into Press::jacks; all turned, or all filled
    double speed = 0;               // turns of the motor a second, or mm3 pumped a second, in all
    double tolerance = 0;           // may run this fraction faster or slower: 0.02 = 2 %
    double gear_ratio = 1;          // turns of the motor for one turn of the jack's screw
    std::optional<double> limit = std::nullopt; // most torque of the motor, N mm, or pressure of the pump, MPa

    /// Turns a second of each jack's screw, or mm3 a second into each cylinder.
    [[nodiscard]] double drive_a_second(bool pumped) const {
        return pumped ? speed / static_cast<double>(jacks.size()) : speed / gear_ratio;
    }
};

/// A link shaft between the screws of two jacks, which then turn together but for its twist and its couplings' play.
struct ShaftLink {
    std::string name;
    std::size_t from = 0, to = 0; // into Press::jacks
    LinkShaft shaft;
    std::optional<double> height_mm =
        std::nullopt; // of its axis above the jacks' feet, for screw jacks; none: half the body
};

/// Heights of the jack heads as read off the real press: they replace the model.
struct MeasuredHeights {
    std::string file;                          // as written in the document; empty: the table stands in it
    std::vector<double> travel_mm;             // from 0, rising
    std::vector<std::vector<double>> heads_mm; // above the floor: a row for each travel, a value for each jack
    double spread_mm = 0;                      // each reading may be off by this much either way
};

} // namespace evenclose
