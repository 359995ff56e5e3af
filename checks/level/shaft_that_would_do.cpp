#include "checks/level/shaft_that_would_do.hpp"

#include "checks/deck.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

namespace evenclose {
namespace {

struct Stock {
    RoundShaft section;
    double wall_mm = 0; // 0: a bar
};
// By weight a metre (common practice, no source: sizes that merchants and bicycle shops have).
constexpr std::array<Stock, 9> kStock = {{
    {{12, 0}, 0},
    {{20, 16}, 2},
    {{25, 21}, 2},
    {{16, 0}, 0},
    {{30, 25}, 2.5},
    {{20, 0}, 0},
    {{40, 34}, 3},
    {{25, 0}, 0},
    {{50, 42}, 4},
}};
constexpr double kSteelShear_MPa = 79'300; // REFERENCE 5e
constexpr double kMostPlay_rad = 0.5;      // beyond this a coupling is broken

bool has_screw(const Jack& jack) {
    return std::holds_alternative<ScrewJack>(jack.kind) || std::holds_alternative<ScissorJack>(jack.kind);
}

/// Jacks in the order of the shafts: along X, then along Y.
std::vector<std::size_t> in_order(const std::vector<Jack>& jacks) {
    std::vector<std::size_t> order(jacks.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        const Vec3& p = jacks[a].foot_mm;
        const Vec3& q = jacks[b].foot_mm;
        return p.x != q.x ? p.x < q.x : p.y < q.y;
    });
    return order;
}

double over_deck_mm(const Press& press, const DeckPlan& deck, Travel at) {
    const SlopeRange range = Lifting(press, LevelSource::linked).jack_slope_range(at);
    double worst = 0;
    for (const double x : {range.low.x, range.high.x}) {
        for (const double y : {range.low.y, range.high.y}) {
            worst = std::max(worst, height_difference_mm(deck, {x, y}));
        }
    }
    return worst;
}

Press with_shafts(const Press& press, const RoundShaft& section, double play_rad) {
    Press tried = press;
    tried.measured_heights.reset();
    tried.link_shafts.clear();
    const std::vector<std::size_t> order = in_order(press.jacks);
    for (std::size_t i = 0; i + 1 < order.size(); ++i) {
        ShaftLink link;
        link.from = order[i];
        link.to = order[i + 1];
        const double length = glm::distance(Vec2{press.jacks[link.from].foot_mm}, Vec2{press.jacks[link.to].foot_mm});
        link.shaft = {section, length, kSteelShear_MPa, {AngleCoupling{play_rad}}};
        tried.link_shafts.push_back(std::move(link));
    }
    return tried;
}

} // namespace

ShaftFound shaft_that_would_do(const Setup& setup, const Assembly& assembly, double limit_mm) {
    const Press& press = *setup.press;
    ShaftFound result;
    result.shafts_there = !press.link_shafts.empty();
    const std::size_t kind = press.jacks.front().kind.index();
    for (const Jack& jack : press.jacks) {
        if (!has_screw(jack) || jack.kind.index() != kind) {
            result.screws = false;
            return result;
        }
    }
    const DeckPlan deck = deck_plan(setup, setup.openings.front());
    for (const Stock& stock : kStock) {
        const Press tried = with_shafts(press, stock.section, 0);
        if (!link_unknown(tried).empty()) {
            return result;
        }
        result.over_deck_mm = over_deck_mm(tried, deck, assembly.last);
        if (result.over_deck_mm > limit_mm) {
            continue;
        }
        result.found = true;
        result.section = stock.wall_mm > 0
                             ? fmt::format("steel tube {:g} x {:g} mm", stock.section.diameter_mm, stock.wall_mm)
                             : fmt::format("steel bar of {:g} mm", stock.section.diameter_mm);
        double play = 0;
        for (double step = 0.5 * kMostPlay_rad; step > 1e-4; step *= 0.5) {
            if (over_deck_mm(with_shafts(press, stock.section, play + step), deck, assembly.last) <= limit_mm) {
                play += step;
            }
        }
        result.most_play_rad = play;
        return result;
    }
    return result;
}

} // namespace evenclose
