// viewer/app/week_chart.hpp: a simulated week as bars on lines, ready to be drawn. Pure, tested without a screen.
//
// Only working hours are drawn, day beside day: nights and Sundays would take three quarters of the paper. What goes on
// over night runs to the edge of its day and on from the next one's.
#pragma once

#include "checks/plan/time_check.hpp"

#include <string>
#include <vector>

namespace evenclose {

struct WeekBar {
    int day = 0;             // 0: Monday
    double from = 0, to = 0; // shares of the working day, 0 to 1, from < to
    TaskKind kind = TaskKind::press;
    int pressing = 0;
    double high = 1;  // share of the line's height: of racks that are taken
    std::string told; // "opening 2 laid up, 8:12 to 8:18"
};

struct WeekLine {
    std::string name; // "press", "person 1", "racks (40)"
    std::vector<WeekBar> bars;
};

struct WeekChart {
    std::vector<WeekLine> lines;
    int days = 0;
    std::string begins, ends; // "8:00", "16:00"
    int pressings_a_week = 0; // begun in it
};

/// The first week of the stretch that repeats.
/// Needs: a measure with a schedule that is possible.
[[nodiscard]] WeekChart week_chart(const TimeMeasure& measure);

} // namespace evenclose
