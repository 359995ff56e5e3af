#include "checks/plan/bottleneck.hpp"

#include <algorithm>
#include <utility>

namespace evenclose {
namespace {

// Less is no reason to buy anything.
constexpr double kWorth = 0.1; // decks a week

} // namespace

std::vector<Gain> gains(const ShopPlan& shop, const Schedule& now) {
    std::vector<Gain> list;
    const auto try_with = [&](const char* what, const auto& change) {
        ShopPlan more = shop;
        change(more);
        const Schedule schedule = simulate(more);
        if (schedule.not_possible.empty()) {
            list.push_back({what, schedule.decks_a_week, schedule.decks_a_week - now.decks_a_week});
        }
    };
    try_with("mold", [](ShopPlan& more) { ++more.molds; });
    try_with("opening", [](ShopPlan& more) { more.openings.push_back(more.openings.back()); });
    try_with("opening with its mold", [](ShopPlan& more) {
        more.openings.push_back(more.openings.back());
        more.molds += more.presses;
    });
    try_with("helper", [](ShopPlan& more) { ++more.people; });
    try_with("press", [](ShopPlan& more) { ++more.presses; });
    try_with("press with its molds", [](ShopPlan& more) {
        ++more.presses;
        more.molds += static_cast<int>(more.openings.size());
    });
    if (shop.racks) {
        try_with("rack", [](ShopPlan& more) { more.racks = *more.racks + 1; });
    }
    if (shop.day_ends + 3600 <= kDay_s) {
        try_with("hour a day", [](ShopPlan& more) { more.day_ends += 3600; });
    }
    std::stable_sort(list.begin(), list.end(), [](const Gain& a, const Gain& b) { return a.gain > b.gain; });
    return list;
}

const Gain* bottleneck(const std::vector<Gain>& gains) {
    return gains.empty() || gains.front().gain < kWorth ? nullptr : &gains.front();
}

} // namespace evenclose
