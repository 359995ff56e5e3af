// The rail: a setting-out rod with the travel on it, the platen as its handle, and beside it a slate with a thin band for
// each pair of bodies that pass each other.
#include "checks/travel/travel.hpp"
#include "viewer/app/clearance_band.hpp"
#include "viewer/app/level_band.hpp"
#include "viewer/app/rail_scale.hpp"
#include "viewer/app/travel_ticks.hpp"
#include "viewer/ui/panel.hpp"
#include "viewer/ui/rail_level.hpp"
#include "viewer/ui/words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace evenclose {
namespace {

constexpr float kNear_pt = 5; // a click this near a pair's trouble means the trouble

struct Rail {
    const Desk& desk;
    Pen pen;
    RailScale scale;
    Rect rod, slate;
};

/// What the travel check holds a pair to, so that a band turns bright where the check turns marginal.
struct BandLimits {
    double limit_mm, interest_mm;
};
BandLimits limits_of(const App& app, const PairProfile& profile) {
    return {wanted_clearance_mm(*app.setup, *app.assembly, profile), interest_mm(app.setup->limits)};
}

ImU32 band_colour(const BandCell& cell, const BandLimits& limits) {
    switch (cell.shade) {
    case BandShade::foul:
        return colour::foul;
    case BandShade::tight:
        return colour::tight;
    case BandShade::near: {
        const double share =
            (limits.interest_mm - cell.least_mm) / std::max(limits.interest_mm - limits.limit_mm, 1e-9);
        return mixed(colour::slate_clear, mixed(colour::slate_clear, colour::tight, 0.75F), static_cast<float>(share));
    }
    case BandShade::clear:
        return colour::slate_clear;
    case BandShade::unknown:
        break;
    }
    return rgb(0, 0);
}

float share_of_width(BandShade shade) {
    switch (shade) {
    case BandShade::foul:
        return 1.0F;
    case BandShade::tight:
        return 0.74F;
    default:
        return 0.42F;
    }
}

/// Left of the rod's numbers.
Rect level_place(const Rail& rail) {
    const Rect& rod = rail.rod;
    return {rod.x + rail.pen.px(4), rod.y, rod.width - rail.pen.px(54), rod.height};
}

void draw_rod(const Rail& rail) {
    const auto& [desk, pen, scale, rod, slate] = rail;
    const Assembly& assembly = *desk.app.assembly;
    pen.fill(rod, colour::rod, 2);
    // What no jack reaches, or what lies beyond closed, is hatched off.
    const float reach_y = scale.y_of(assembly.last);
    const Rect beyond{rod.x, rod.y, rod.width, std::max(reach_y - rod.y, 0.0F)};
    if (beyond.height > 0) {
        pen.list().PushClipRect({beyond.x, beyond.y}, {beyond.right(), beyond.bottom()}, true);
        for (float y = beyond.y; y < beyond.bottom() + beyond.width; y += pen.px(7)) {
            pen.line(beyond.x, y, beyond.right(), y - beyond.width, mixed(colour::rod, colour::rod_edge, 0.6F), 1);
        }
        pen.list().PopClipRect();
    }
    pen.outline(rod, colour::rod_edge, 1, 2);
    draw_level(desk, pen, scale, level_place(rail));

    const double length = scale.open_y - scale.top_y;
    for (const TravelTick& tick : travel_ticks(scale.top, length, static_cast<double>(pen.px(36)), desk.app.units)) {
        const float y = std::round(scale.y_of(tick.at));
        const float long_pt = tick.named ? 20.0F : 9.0F;
        pen.line(rod.right() - pen.px(long_pt), y, rod.right(), y, colour::ink, tick.named ? 1.3F : 0.8F);
        // The words of a mark stand on its line; a number there would be written over.
        const auto hidden = [y, &rail](Travel mark) {
            const float below = y - rail.scale.y_of(mark);
            return below > -rail.pen.px(23) && below < rail.pen.px(9);
        };
        if (tick.named && !hidden(assembly.closed) && !hidden(assembly.end_of_stroke)) {
            pen.text(rod.right() - pen.px(25), y - 0.5F * pen.height_of(Face::small), Face::small, colour::ink,
                     tick.text, 1e9F, Align::right);
        }
    }
}

/// Closed and end of stroke: lines across rod and slate, named at the slate's right.
void draw_marks(const Rail& rail) {
    const auto& [desk, pen, scale, rod, slate] = rail;
    const Assembly& assembly = *desk.app.assembly;
    struct Mark {
        Travel at;
        const char* words;
        ImU32 colour;
    };
    std::array<Mark, 2> marks{Mark{assembly.closed, "closed", colour::ink},
                              Mark{assembly.end_of_stroke, "end of stroke", colour::graphite}};
    std::sort(marks.begin(), marks.end(), [](const Mark& a, const Mark& b) { return a.at > b.at; });
    const float high = pen.height_of(Face::small);
    float free_from = rod.y - pen.px(30); // the words of the upper one end here
    for (const Mark& mark : marks) {
        if (!std::isfinite(mark.at.mm) || mark.at > scale.top || mark.at.mm < 0) {
            continue;
        }
        const float y = std::round(scale.y_of(mark.at));
        pen.line(rod.x, y, slate.right(), y, colour::ink, 2.0F);
        pen.dashed(slate.x, y, slate.right(), y, colour::chalk, 1.2F, 3);
        const float words_y = std::max(y - high - pen.px(1), free_from);
        const float width = pen.width_of(Face::small, mark.words);
        pen.fill({rod.x + pen.px(3), words_y, width + pen.px(6), high}, colour::rod, 1);
        pen.text(rod.x + pen.px(6), words_y, Face::small, mark.colour, mark.words);
        free_from = words_y + high;
        desk.places.note(std::string("rail.mark.") + mark.words, {rod.x, y - 1, rod.width, 2});
    }
}

void draw_handle(const Rail& rail, bool hot) {
    const auto& [desk, pen, scale, rod, slate] = rail;
    const float y = std::round(scale.y_of(desk.app.travel));
    const float high = pen.px(22);
    const Rect platen{rod.x - pen.px(5), y - 0.5F * high, rod.width + pen.px(10), high};
    pen.line(slate.x, y, slate.right(), y, colour::chalk, 1.5F);
    pen.fill({platen.x, platen.y + pen.px(2), platen.width, platen.height}, colour::shadow, 2);
    pen.fill(platen, hot ? mixed(colour::accent, colour::ink, 0.25F) : colour::accent, 2);
    pen.list().AddTriangleFilled({platen.right() - 1, y - pen.px(6)}, {platen.right() - 1, y + pen.px(6)},
                                 {platen.right() + pen.px(7), y}, colour::accent);
    pen.text(platen.middle_x(), y - 0.5F * pen.height_of(Face::small) - 1, Face::small, colour::on_accent,
             show_length(desk.app.travel.mm, desk.app.units, 1), platen.width - pen.px(4), Align::middle);
    desk.places.note("rail.handle", platen);
}

/// What an opening does at this travel, in words.
std::string opening_words(const App& app, std::size_t index) {
    const AssembledOpening& opening = app.assembly->openings[index];
    const std::string name = fmt::format("opening {}", index + 1);
    const std::string closes = show_length(opening.closes.mm, app.units, 1);
    switch (app.assembly->state_of(index, app.travel)) {
    case OpeningState::open:
        return fmt::format("{}: open, {} to close, closed at {}", name,
                           show_length(opening.heights.gap_mm(), app.units, 1), closes);
    case OpeningState::closing: {
        const double below = app.assembly->rides[app.assembly->bodies[opening.below].ride].lift_mm(app.travel);
        return fmt::format("{}: closing, {} left, closed at {}", name,
                           show_length(std::max(0.0, opening.heights.gap_mm() - below), app.units, 1), closes);
    }
    case OpeningState::closed:
        return fmt::format("{}: closed since {}", name, closes);
    }
    return name;
}

/// Beside the rod, over one another as in the press: each opening's stretch of the stroke. Filled as far as it is closed.
void draw_openings(const Rail& rail, const Rect& strip) {
    const auto& [desk, pen, scale, rod, slate] = rail;
    const App& app = desk.app;
    Travel from{0};
    for (std::size_t i = 0; i < app.assembly->openings.size(); ++i) {
        const Travel to = app.assembly->openings[i].closes;
        const float low = scale.y_of({std::min(from.mm, scale.top.mm)});
        const float high = scale.y_of({std::clamp(to.mm, 0.0, scale.top.mm)});
        const Rect cell{strip.x, high + 1, strip.width, std::max(low - high - 2, 1.0F)};
        ImGui::PushID(static_cast<int>(i));
        const Pressable press = pen.pressable("opening", cell);
        ImGui::PopID();
        desk.places.note(fmt::format("rail.opening.{}", i + 1), cell);
        const OpeningState state = app.assembly->state_of(i, app.travel);
        pen.fill(cell, press.hovered ? mixed(colour::card, colour::ink, 0.12F) : colour::card, 2);
        if (state == OpeningState::closed) {
            pen.fill(cell, colour::ink, 2);
        } else if (state == OpeningState::closing) {
            const float now = std::clamp(scale.y_of(app.travel), cell.y, cell.bottom());
            pen.fill({cell.x, now, cell.width, cell.bottom() - now}, colour::accent, 2);
        }
        pen.outline(cell, app.opening == i ? colour::accent : colour::graphite, app.opening == i ? 2.0F : 1.0F, 2);
        if (cell.height > pen.height_of(Face::small)) {
            pen.text(cell.middle_x(), cell.middle_y() - 0.5F * pen.height_of(Face::small), Face::small,
                     state == OpeningState::closed ? colour::on_accent : colour::ink, fmt::format("{}", i + 1), 1e9F,
                     Align::middle);
        }
        if (press.hovered) {
            ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
            pen.tip(opening_words(app, i));
        }
        if (press.pressed) {
            desk.want(ChooseOpening{i});
        }
        from = to;
    }
}

std::string pair_words(const Rail& rail, const PairProfile& profile, const BandCell& cell, Travel at) {
    const App& app = rail.desk.app;
    const std::string names =
        app.assembly->bodies[profile.first].name + "  |  " + app.assembly->bodies[profile.second].name;
    const std::string here = show_length(at.mm, app.units, 1);
    std::string told;
    switch (cell.shade) {
    case BandShade::foul:
        told = fmt::format("foul at {}", here);
        break;
    case BandShade::unknown:
        told = profile.sweep.why_not.empty() ? "not swept here" : profile.sweep.why_not;
        break;
    case BandShade::clear:
        told =
            fmt::format("at {}: clear by more than {}", here, show_length(interest_mm(app.setup->limits), app.units));
        break;
    default:
        told = fmt::format("at {}: at least {} apart", here, show_length(std::max(cell.least_mm, 0.0), app.units));
    }
    const Travel worst = worst_travel(profile.sweep);
    std::string tightest;
    if (profile.sweep.contact == Contact::foul || profile.sweep.contact == Contact::inside) {
        tightest = fmt::format("first foul at {}", show_length(worst.mm, app.units, 1));
    } else if (profile.sweep.contact == Contact::clear || profile.sweep.contact == Contact::touching) {
        tightest = fmt::format("closest at {}: {}", show_length(worst.mm, app.units, 1),
                               show_length(profile.sweep.least_lower_mm, app.units));
    }
    return names + "\n" + told + (tightest.empty() ? "" : "\n" + tightest);
}

void draw_band(const Rail& rail, const Rect& place, const Sweep& sweep, const std::vector<BandCell>& cells,
               const BandLimits& limits) {
    const auto& [desk, pen, scale, rod, slate] = rail;
    const float bottom = scale.open_y;
    for (std::size_t i = 0; i < cells.size();) {
        std::size_t end = i + 1; // like cells in one stroke of the brush
        while (end < cells.size() && cells[end].shade == cells[i].shade && cells[end].least_mm == cells[i].least_mm) {
            ++end;
        }
        if (cells[i].shade != BandShade::unknown) {
            const float width = std::round(place.width * share_of_width(cells[i].shade));
            const float left = std::round(place.middle_x() - 0.5F * width);
            float low = bottom - static_cast<float>(i);
            float high = bottom - static_cast<float>(end);
            if (cells[i].shade == BandShade::foul && low - high < pen.px(4)) { // never too thin to be seen
                const float middle = 0.5F * (low + high);
                low = middle + pen.px(2);
                high = middle - pen.px(2);
            }
            pen.list().AddRectFilled({left, high}, {left + width, low}, band_colour(cells[i], limits));
        }
        i = end;
    }
    if (cells.empty() || sweep.spans.empty()) {
        pen.dashed(place.middle_x(), place.y, place.middle_x(), place.bottom(), colour::graphite, 1, 2);
        return;
    }
    const float worst_y = scale.y_of(worst_travel(sweep));
    pen.line(place.x, worst_y, place.right(), worst_y, colour::chalk, 1.0F);
}

/// Returns how many bands there is room for.
std::size_t draw_bands(const Rail& rail) {
    const auto& [desk, pen, scale, rod, slate] = rail;
    const App& app = desk.app;
    const auto& profiles = app.results->profiles;
    std::vector<const Sweep*> sweeps;
    sweeps.reserve(profiles.size());
    for (const PairProfile& profile : profiles) {
        sweeps.push_back(&profile.sweep);
    }
    const std::vector<std::size_t> order = worst_first(sweeps);
    const float inside = slate.width - pen.px(8);
    const auto room = static_cast<std::size_t>(std::max(inside / pen.px(13), 1.0F));
    const std::size_t count = std::min(room, order.size());
    const float step = std::min(inside / static_cast<float>(std::max<std::size_t>(count, 1)), pen.px(20));
    const auto cell_count = static_cast<std::size_t>(std::max(scale.open_y - scale.top_y, 1.0F));
    for (std::size_t i = 0; i < count; ++i) {
        const std::size_t index = order[i];
        const PairProfile& profile = profiles[index];
        const Rect column{slate.x + pen.px(4) + static_cast<float>(i) * step, slate.y, step, slate.height};
        const Rect place{column.x + pen.px(1), scale.top_y, step - pen.px(2), scale.open_y - scale.top_y};
        const BandLimits limits = limits_of(app, profile);
        const auto cells = band_cells(profile.sweep, {0.0}, scale.top, cell_count, limits.limit_mm, limits.interest_mm);
        ImGui::PushID(static_cast<int>(index));
        const Pressable press = pen.pressable("band", column);
        ImGui::PopID();
        desk.places.note(fmt::format("rail.band.{}", i), column);
        const bool chosen = app.pair == index || (app.finding && finding_of_pair(app, index) == app.finding);
        if (chosen || press.hovered) {
            pen.fill(column, chosen ? rgb(0x5C86AD, 150) : rgb(0xEFEBDD, 34));
        }
        draw_band(rail, place, profile.sweep, cells, limits);
        if (press.hovered) {
            ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
            const float y = std::clamp(ImGui::GetMousePos().y, scale.top_y, scale.open_y - 1.0F);
            const auto cell = std::min(static_cast<std::size_t>(scale.open_y - y), cell_count - 1);
            pen.tip(pair_words(rail, profile, cells[cell], scale.travel_at(y)));
            if (press.pressed) {
                const bool meant = std::abs(scale.y_of(worst_travel(profile.sweep)) - y) < pen.px(kNear_pt);
                desk.want(ChoosePair{index, meant ? std::optional<Travel>{} : scale.travel_at(y)});
            }
        }
    }
    return count;
}

/// How the pencilled curve is to be read.
void level_legend(const Desk& desk, const Pen& pen, const Rect& rect) {
    const LevelPairing pairing = level_pairing(desk.app.level);
    if (pairing.counts == nullptr) {
        return;
    }
    const double reach = level_reach_mm(pairing, desk.app.setup->limits.level_over_deck_mm);
    pen.text(rect.x, rect.y, Face::small, colour::graphite,
             fmt::format("tilt: deck's ends, ±{} to the edge", show_length(reach, desk.app.units)), rect.width);
}

void draw_legend(const Desk& desk, const Pen& pen, const Rect& rect, std::size_t shown, std::size_t all) {
    float x = rect.x;
    const float y = rect.y;
    const float high = pen.height_of(Face::small);
    const auto entry = [&](ImU32 colour, float share, const char* words) {
        pen.fill({x, y + pen.px(2), pen.px(14), high - pen.px(3)}, colour::slate);
        const float width = pen.px(14) * share;
        pen.fill({x + 0.5F * (pen.px(14) - width), y + pen.px(2), width, high - pen.px(3)}, colour);
        x += pen.px(19);
        x += pen.text(x, y, Face::small, colour::ink, words) + pen.px(12);
    };
    entry(colour::slate_clear, share_of_width(BandShade::clear), "clear");
    entry(colour::tight, share_of_width(BandShade::tight),
          fmt::format("under {}", show_length(desk.app.setup->limits.running_clearance_mm, desk.app.units)).c_str());
    entry(colour::foul, 1.0F, "foul");
    const std::string count =
        all == 0 ? std::string("no pairs swept")
                 : (shown == all ? fmt::format("{} pair{} that pass each other, worst first", all, all == 1 ? "" : "s")
                                 : fmt::format("the {} worst of {} pairs that pass", shown, all));
    pen.text(rect.x, y + high + pen.px(3), Face::small, colour::graphite, count, rect.width);
    level_legend(desk, pen, {rect.x, y + 2 * high + pen.px(5), rect.width, high});
    desk.places.note("rail.legend", rect);
}

void play_row(const Desk& desk, const Pen& pen, const Rect& rect) {
    const bool plays = desk.app.plays();
    const Rect key{rect.x, rect.y, pen.px(84), rect.height};
    const Pressable press = pen.pressable("play", key);
    desk.places.note("rail.play", key);
    pen.fill(key, press.hovered ? mixed(colour::accent, colour::ink, 0.25F) : colour::accent, 2);
    const float x = key.x + pen.px(14);
    const float y = key.middle_y();
    const ImU32 white = colour::on_accent;
    if (plays) {
        pen.fill({x, y - pen.px(6), pen.px(4), pen.px(12)}, white);
        pen.fill({x + pen.px(7), y - pen.px(6), pen.px(4), pen.px(12)}, white);
    } else {
        pen.list().AddTriangleFilled({x, y - pen.px(7)}, {x, y + pen.px(7)}, {x + pen.px(11), y}, white);
    }
    pen.text(x + pen.px(18), y - 0.5F * pen.height_of(Face::text), Face::text, white, plays ? "Pause" : "Play");
    if (press.hovered) {
        ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
        pen.tip("Run the stroke up and down  ( Space )");
    }
    if (press.pressed) {
        desk.want(Play{!plays});
    }
    float at = key.right() + pen.px(8);
    constexpr std::array<std::pair<double, const char*>, 4> speeds{
        {{0.25, "×¼"}, {0.5, "×½"}, {1.0, "×1"}, {3.0, "×3"}}};
    const float step = std::min((rect.right() - at) / 4.0F, pen.px(40));
    for (const auto& [times, words] : speeds) {
        if (pen.button(fmt::format("rail.speed.{}", times).c_str(), {at, rect.y, step, rect.height}, words,
                       desk.app.playing.times == times, "Speed of playing")) {
            desk.want(SetPlaySpeed{times});
        }
        at += step;
    }
}

void read_out(const Desk& desk, const Pen& pen, const Rect& rect) {
    const App& app = desk.app;
    pen.text(rect.x, rect.y, Face::small, colour::graphite, "travel");
    pen.hint(rect, "Travel: how far the platen has risen, 0 is open. Daylight: from its face to the head.");
    pen.text(rect.x, rect.y + pen.px(13), Face::number, colour::ink, show_length(app.travel.mm, app.units, 1),
             0.54F * rect.width);
    const float x = rect.x + 0.56F * rect.width;
    pen.text(x, rect.y, Face::small, colour::graphite,
             app.assembly->openings.size() > 1 ? "platen to head" : "daylight");
    pen.text(x, rect.y + pen.px(18), Face::title, colour::ink,
             show_length(daylight_mm(*app.assembly, app.travel), app.units, 1), rect.right() - x);
    desk.places.note("rail.readout", rect);
}

} // namespace

void rail_panel(const Desk& desk, const Rect& rect) {
    const Pen pen = desk.pen();
    const App& app = desk.app;
    desk.places.note("rail", rect);
    pen.fill(rect, colour::board);
    pen.line(rect.x, rect.y, rect.x, rect.bottom(), colour::pencil);
    if (!app.assembly) {
        pen.wrapped(rect.x + pen.px(16), rect.y + pen.px(14), rect.width - pen.px(32), Face::small, colour::graphite,
                    "The rail: the stroke from open, at the foot, to closed. It fills once a set-up is read.");
        return;
    }
    const float side = pen.px(16);
    const Rect inner{rect.x + side, rect.y + pen.px(10), rect.width - 2 * side, rect.height - pen.px(20)};
    read_out(desk, pen, {inner.x, inner.y, inner.width, pen.px(46)});

    const float play = pen.px(30);
    const float legend = 3 * pen.height_of(Face::small) + pen.px(6);
    const Rect play_at{inner.x, inner.bottom() - play, inner.width, play};
    const Rect legend_at{inner.x, play_at.y - legend - pen.px(8), inner.width, legend};
    const Rect board{inner.x, inner.y + pen.px(54), inner.width, legend_at.y - pen.px(8) - inner.y - pen.px(54)};
    const float rod = pen.px(104);
    const float strip = app.assembly->openings.size() > 1 ? pen.px(23) : 0.0F; // of the openings
    Rail rail{desk,
              pen,
              {rail_top(*app.assembly), board.bottom() - pen.px(13), board.y + pen.px(20)},
              {board.x + pen.px(5), board.y, rod, board.height},
              {board.x + rod + pen.px(12) + strip, board.y, board.width - rod - pen.px(12) - strip, board.height}};

    draw_rod(rail);
    pen.fill(rail.slate, colour::slate, 2);
    std::size_t shown = 0;
    std::size_t all = 0;
    if (app.results) {
        all = app.results->profiles.size();
        shown = draw_bands(rail);
    } else {
        const char* words = app.busy() ? "sweeping the\nstroke …" : "not swept";
        pen.wrapped(rail.slate.x + pen.px(10), rail.slate.middle_y() - pen.px(20), rail.slate.width - pen.px(20),
                    Face::small, colour::chalk, words);
    }
    desk.places.note("rail.slate", rail.slate);
    draw_marks(rail);

    const Rect grip{rail.rod.x - pen.px(5), rail.rod.y, rail.rod.width + pen.px(10), rail.rod.height};
    const Pressable press = pen.pressable("rod", grip);
    if (press.held) {
        desk.want(SetTravel{rail.scale.travel_at(ImGui::GetMousePos().y)});
    }
    if (press.hovered || press.held) {
        ImGui::SetMouseCursor(ImGuiMouseCursor_ResizeNS);
    }
    const ImVec2 mouse = ImGui::GetMousePos();
    if (press.hovered && !press.held && level_place(rail).contains(mouse.x, mouse.y)) {
        const double at = std::clamp(rail.scale.travel_at(mouse.y).mm, 0.0, app.last().mm);
        if (const std::string words = level_words(app, {at}); !words.empty()) {
            pen.tip(words);
        }
    }
    if (strip > 0) {
        draw_openings(rail, {rail.rod.right() + pen.px(13), rail.rod.y, pen.px(14), rail.rod.height});
    }
    draw_handle(rail, press.hovered || press.held);
    desk.places.note("rail.rod", rail.rod);
    // The ends of the rule itself, so that a place on it can be told from a height on the screen.
    desk.places.note("rail.scale",
                     {rail.rod.x, rail.scale.top_y, rail.rod.width, rail.scale.open_y - rail.scale.top_y});

    draw_legend(desk, pen, legend_at, shown, all);
    play_row(desk, pen, play_at);
}

} // namespace evenclose
