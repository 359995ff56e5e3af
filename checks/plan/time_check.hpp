// checks/plan/time_check.hpp: `time`: are all openings under pressure before the glue has had its time, how long are they
// pressed, and how many decks a week come of it?
//
// What the glue bears is its data sheet's, in the mold's document; what the crew takes is the set-up's. Nothing is guessed:
// what is missing is told. All molds of a pressing are pressed as long as the slowest glue among them wants, and the least
// closed assembly time holds for all.
#pragma once

#include "checks/finding.hpp"
#include "checks/plan/bottleneck.hpp"
#include "checks/plan/lay_up.hpp"
#include "checks/plan/schedule.hpp"
#include "scene/setup/setup.hpp"

#include <optional>
#include <string>
#include <vector>

namespace evenclose {

struct TimeMeasure {
    std::vector<std::string> missing; // "\"crew\" in the set-up": without these there is nothing to be told

    std::string slowest_mold; // whose lay-up leaves the least of its glue's open time
    std::optional<LayUp> lay_up;
    std::optional<double> open_time_s;

    std::optional<double> wait_s;        // from the first mold laid up until the pressure is on
    std::optional<double> closed_time_s; // the least of the glues'
    std::optional<double> wait_with_helper_s;
    int openings_that_do = 0; // most openings whose wait is within the closed time; 0: not even one

    std::optional<double> press_s; // at the shop's temperature
    std::string no_press;          // why there is none
    std::optional<double> temperature_C;

    std::optional<ShopPlan> plan;
    Schedule schedule; // of `plan`
    std::vector<Gain> gains;
};

/// The set-up's week as numbers, without any judgement; none if a datum is missing, which `missing` then names.
[[nodiscard]] std::optional<ShopPlan> shop_plan(const Setup& setup, std::vector<std::string>& missing);

/// Needs: a set-up with its molds loaded.   Threads: pure, any.
[[nodiscard]] TimeMeasure measure_time(const Setup& setup);

/// Lay-up against open time, wait against closed time: go up to four fifths of it (things go wrong at a bench; common
/// practice, no source), marginal up to all of it, no-go beyond. Press time and decks a week are told; beyond the sheet's
/// temperatures nothing is.
[[nodiscard]] std::vector<Finding> judge(const TimeMeasure& measure);

} // namespace evenclose
