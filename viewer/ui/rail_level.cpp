#include "viewer/ui/rail_level.hpp"

#include "viewer/app/level_band.hpp"
#include "viewer/ui/words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

const char* without(LevelSource source) {
    return source == LevelSource::measured ? "by the model" : "without the link shaft";
}

double most_apart_mm(const LevelPoint& point) {
    return std::max(std::abs(point.low_over_deck_mm), std::abs(point.high_over_deck_mm));
}

} // namespace

void draw_level(const Desk& desk, const Pen& pen, const RailScale& scale, const Rect& rect) {
    const App& app = desk.app;
    const LevelPairing pairing = level_pairing(app.level);
    if (pairing.counts == nullptr) {
        return;
    }
    const double limit = app.setup->limits.level_over_deck_mm;
    const double reach = level_reach_mm(pairing, limit);
    const auto x_of = [&](double over_deck_mm) {
        return rect.middle_x() + 0.5F * rect.width * static_cast<float>(std::clamp(over_deck_mm / reach, -2.0, 2.0));
    };
    pen.list().PushClipRect({rect.x, rect.y}, {rect.right(), rect.bottom()}, true);
    const float foot = scale.y_of({0.0});
    const float head = scale.y_of(pairing.counts->points.back().at);
    pen.line(rect.middle_x(), foot, rect.middle_x(), head, mixed(colour::rod, colour::graphite, 0.6F), 0.8F);
    const auto& points = pairing.counts->points;
    const double worst =
        most_apart_mm(*std::max_element(points.begin(), points.end(), [](const LevelPoint& a, const LevelPoint& b) {
            return most_apart_mm(a) < most_apart_mm(b);
        }));
    const ImU32 band = worst > limit ? colour::foul : colour::accent;
    // Row by row of the screen, so that a leaning edge stays smooth and nothing is laid over twice; never thinner than a
    // pencil line: a platen that is held to a hair is seen to be.
    const float thin = pen.px(0.6F);
    for (float y = std::floor(foot); y > head; y -= 1.0F) {
        const LevelPoint here = level_at(*pairing.counts, scale.travel_at(y - 0.5F));
        pen.list().AddRectFilled({x_of(here.low_over_deck_mm) - thin, y - 1.0F},
                                 {x_of(here.high_over_deck_mm) + thin, y}, (band & 0x00FFFFFFU) | (140U << 24U));
    }
    for (const double side : {-limit, limit}) {
        pen.line(x_of(side), foot, x_of(side), head, colour::foul_word, 0.9F);
    }
    for (std::size_t i = 0; i + 1 < points.size(); ++i) {
        pen.line(x_of(points[i].nominal_over_deck_mm), scale.y_of(points[i].at),
                 x_of(points[i + 1].nominal_over_deck_mm), scale.y_of(points[i + 1].at), colour::ink, 1.1F);
    }
    if (pairing.compared != nullptr) {
        const auto& other = pairing.compared->points;
        for (std::size_t i = 0; i + 1 < other.size(); ++i) {
            for (const double LevelPoint::*end : {&LevelPoint::low_over_deck_mm, &LevelPoint::high_over_deck_mm}) {
                pen.dashed(x_of(other[i].*end), scale.y_of(other[i].at), x_of(other[i + 1].*end),
                           scale.y_of(other[i + 1].at), colour::ink, 1.1F, 3);
            }
        }
    }
    pen.list().PopClipRect();
    desk.places.note("rail.level", {rect.x, head, rect.width, foot - head});
}

std::string level_words(const App& app, Travel at) {
    const LevelPairing pairing = level_pairing(app.level);
    if (pairing.counts == nullptr) {
        return {};
    }
    const LevelPoint point = level_at(*pairing.counts, at);
    std::string words = fmt::format("tilt at {}: the deck's ends differ by {} at most",
                                    show_length(at.mm, app.units, 1), show_length(most_apart_mm(point), app.units));
    if (pairing.compared != nullptr) {
        words += fmt::format("\n{} by {}", without(pairing.counts->source),
                             show_length(most_apart_mm(level_at(*pairing.compared, at)), app.units));
    }
    words += fmt::format("\nallowed at closed: {}", show_length(app.setup->limits.level_over_deck_mm, app.units));
    return words;
}

} // namespace evenclose
