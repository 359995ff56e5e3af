#include "checks/plan/lay_up.hpp"

#include <algorithm>

namespace evenclose {

LayUp lay_up_of(const PlyStack& stack, const CrewPace& crew) {
    LayUp lay_up;
    lay_up.glue_lines = stack.decks * (static_cast<int>(stack.plies.size()) - 1);
    lay_up.spread_s = lay_up.glue_lines * crew.spread_s;
    lay_up.stack_s = stack.decks * crew.stack_s;
    return lay_up;
}

std::optional<double> press_time_s(const Glue& glue, double temperature_C) {
    const std::vector<PressTime>& rows = glue.press_times;
    const auto above = std::find_if(rows.begin(), rows.end(),
                                    [&](const PressTime& row) { return row.temperature_C >= temperature_C; });
    if (above == rows.end()) {
        return std::nullopt;
    }
    if (above->temperature_C == temperature_C) {
        return above->time_s;
    }
    if (above == rows.begin()) {
        return std::nullopt;
    }
    const PressTime& low = *(above - 1);
    const double share = (temperature_C - low.temperature_C) / (above->temperature_C - low.temperature_C);
    return low.time_s + share * (above->time_s - low.time_s);
}

} // namespace evenclose
