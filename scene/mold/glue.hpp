// scene/mold/glue.hpp: what a glue's data sheet says of time and temperature. Plain data, s and °C.
//
// Open assembly: spread, but not joined; the film loses water to the air and to the wood. Closed assembly: joined, but
// not yet pressed; it loses water to the wood alone, so it may last longer (REFERENCE 6: Wood Handbook, chapter 10).
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace evenclose {

struct PressTime {
    double temperature_C = 0;
    double time_s = 0; // least time under pressure at that temperature of wood, mold and glue
};

struct Glue {
    std::string name;
    std::optional<double> spread_g_per_m2{};              // of one glue line
    std::optional<double> open_time_s{}, closed_time_s{}; // open and closed assembly time
    std::vector<PressTime> press_times{};                 // by rising temperature; none: the sheet was not copied
    std::optional<double> post_cure_s{};                  // after the press, before the deck is cut or loaded
};

} // namespace evenclose
