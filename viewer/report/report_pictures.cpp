#include "viewer/report/report_pictures.hpp"

#include "checks/cavity/cavity.hpp"
#include "checks/frame/bent_shapes.hpp"
#include "checks/opening_view.hpp"
#include "checks/phrase.hpp"
#include "viewer/render/cut_stack.hpp"
#include "viewer/render/face_map.hpp"
#include "viewer/render/force_arrows.hpp"
#include "viewer/render/frame_of.hpp"
#include "viewer/render/renderer.hpp"
#include "viewer/render/steepest.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <iterator>
#include <optional>
#include <string>
#include <utility>

namespace evenclose {
namespace {

constexpr int kWidth = 1200, kHeight = 800; // sharp at half a page's width on 300 dots an inch paper
constexpr double kAspect = static_cast<double>(kWidth) / kHeight;

struct Sheet {
    std::string title, caption;
    Frame frame;
    std::optional<ColourScale> scale;
};

Sheet press_at(const Assembly& assembly, Travel at, const char* view, std::string title, std::string caption) {
    FrameRequest request;
    request.at = at;
    request.view = view;
    request.aspect = kAspect;
    return {std::move(title), std::move(caption), frame_of(assembly, request), {}};
}

/// Of the findings that have a place and bodies the worst; of equal ones a moving clearance first, it is what a shop fears.
const Finding* tightest(const std::vector<Finding>& findings) {
    const Finding* worst = nullptr;
    for (const Finding& finding : findings) {
        if (finding.check != "travel" || !finding.at_mm || finding.bodies.empty() || !finding.value) {
            continue;
        }
        if (worst == nullptr || finding.verdict > worst->verdict) {
            worst = &finding;
        }
    }
    return worst;
}

Sheet spot_of(const Assembly& assembly, const Finding& finding, UnitSystem units) {
    FrameRequest request;
    request.chosen = &finding;
    request.aspect = kAspect;
    if (finding.travel) {
        request.at = finding.travel->from;
    }
    request.slope = finding.slope;
    request.camera = camera_for(assembly, finding, kAspect);
    return {finding.verdict == Verdict::no_go ? "Where it fouls" : "The tightest spot",
            shown(finding.title, units),
            frame_of(assembly, request),
            {}};
}

std::optional<Sheet> tilt_of(const Assembly& assembly, const Setup& setup, const std::vector<LevelCurve>& curves,
                             UnitSystem units) {
    const auto curve = std::find_if(curves.begin(), curves.end(), [](const LevelCurve& it) { return it.counts; });
    if (curve == curves.end() || curve->points.empty()) {
        return std::nullopt;
    }
    const auto over = [](const LevelPoint& point) {
        return std::max(std::abs(point.low_over_deck_mm), std::abs(point.high_over_deck_mm));
    };
    const LevelPoint& worst =
        *std::max_element(curve->points.begin(), curve->points.end(),
                          [&](const LevelPoint& a, const LevelPoint& b) { return over(a) < over(b); });
    if (!(over(worst) > 0)) {
        return std::nullopt;
    }
    // Drawn so that it is seen: about a thirtieth of the platen's length, in round steps.
    const Slope slope = steepest(worst.range);
    const double rise =
        std::hypot(slope.x, slope.y) * std::max(setup.press->platen.size_mm.x, setup.press->platen.size_mm.y);
    double times = 1;
    for (const double step : {2.0, 5.0, 10.0, 20.0, 50.0, 100.0}) {
        if (rise * step <= setup.press->platen.size_mm.x / 30) {
            times = step;
        }
    }
    FrameRequest request;
    request.at = worst.at;
    request.slope = slope;
    request.tilt_magnified = times;
    request.view = std::abs(slope.x) >= std::abs(slope.y) ? "front" : "right";
    request.aspect = kAspect;
    return Sheet{"Worst tilt of the platen",
                 fmt::format("{} over the deck at {} of travel{}.", show_length(over(worst), units),
                             show_length(worst.at.mm, units, 1),
                             times > 1 ? fmt::format(", drawn {:.0f} times as large", times) : ""),
                 frame_of(assembly, request),
                 {}};
}

/// One opening's maps: `called` stands before a caption where there are several.
struct Shown {
    const OpeningView& view;
    std::size_t opening = 0;
    std::string called;
};

std::optional<Sheet> map_of(MapKind kind, const Setup& setup, const Assembly& assembly, const Shown& shown_one,
                            const CheckResults& results, UnitSystem units) {
    const std::optional<FaceMap> map = face_map(kind, setup, results, units, shown_one.opening);
    if (!map) {
        return std::nullopt;
    }
    FrameRequest request;
    request.at = assembly.last;
    request.aspect = kAspect;
    request.camera = camera_for_map(shown_one.view.assembly, request.at, false, kAspect);
    Sheet sheet;
    sheet.frame = frame_of(assembly, request);
    lay_map(sheet.frame, shown_one.view.assembly, *map);
    sheet.scale = map->scale;
    switch (kind) {
    case MapKind::cavity:
        sheet.title = "Gap of the closed cavity less the stack";
        sheet.caption =
            fmt::format("on the lower half, seen from above. Bare is within {}; orange is too narrow, blue too "
                        "wide.",
                        show_length(setup.limits.cavity_tolerance_mm, units));
        break;
    case MapKind::bend:
        sheet.title = "Curvature of the forming face";
        sheet.caption = "on the lower half, seen from above: orange crowned, blue hollow.";
        break;
    case MapKind::pressure:
    case MapKind::none:
        sheet.title = "Pressure on the deck";
        sheet.caption = "on the lower half, seen from above, under platens bent by the closing force.";
    }
    sheet.caption = shown_one.called + sheet.caption;
    sheet.caption.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(sheet.caption.front())));
    return sheet;
}

std::optional<Sheet> cut_of(const Setup& setup, const Assembly& assembly, const Shown& shown_one,
                            const CheckResults& results) {
    const std::size_t which = shown_one.opening;
    if (which >= results.cavities.size() || !results.cavities[which] ||
        !results.cavities[which]->not_measured.empty()) {
        return std::nullopt;
    }
    FrameRequest request;
    request.at = assembly.last;
    request.aspect = kAspect;
    request.camera = camera_for_map(shown_one.view.assembly, request.at, true, kAspect);
    Frame frame = frame_of(assembly, request);
    lay_cut(frame, shown_one.view.setup, shown_one.view.assembly,
            ply_solids(*results.cavities[which], setup.openings[which].mold->stack));
    return Sheet{"The closed mold, cut along the deck",
                 shown_one.called.empty() ? "The halves cut open, the plies between them."
                                          : shown_one.called + "the halves cut open, the plies between them.",
                 std::move(frame),
                 {}};
}

std::optional<Sheet> bent_of(const Setup& setup, const Assembly& assembly, const CheckResults& results,
                             UnitSystem units) {
    if (!results.frame || !results.frame->computed()) {
        return std::nullopt;
    }
    const Setup one = stack_as_one(setup, assembly, 0);
    const double times = bend_to_see(*results.frame, one);
    const BentShapes shapes = bent_shapes(*results.frame, one, assembly, times);
    FrameRequest request;
    request.at = assembly.last;
    request.bent = &shapes;
    request.aspect = kAspect;
    return Sheet{
        "The frame under the closing force",
        fmt::format("{} on the deck, bending drawn {:.0f} times as large. Pale uses nothing of its strength, straw "
                    "half, orange 90 %, dark red all or more.",
                    show_force(results.frame->force_N, units), times),
        frame_of(assembly, request),
        {}};
}

} // namespace

std::vector<ReportPicture> report_pictures(const Setup& setup, const Assembly& assembly, const CheckResults& results,
                                           UnitSystem units) {
    std::vector<Sheet> sheets;
    sheets.push_back(press_at(assembly, Travel{0}, "corner", "The press, open",
                              fmt::format("{} of daylight.", show_length(assembly.daylight_mm, units, 1))));
    sheets.push_back(press_at(assembly, assembly.last, "front", "As far as it closes",
                              fmt::format("{} of travel, from the front.", show_length(assembly.last.mm, units, 1))));
    if (const Finding* finding = tightest(results.findings)) {
        sheets.push_back(spot_of(assembly, *finding, units));
    }
    const auto add = [&](std::optional<Sheet> sheet) {
        if (sheet) {
            sheets.push_back(std::move(*sheet));
        }
    };
    add(tilt_of(assembly, setup, results.level, units));
    for (const std::vector<std::size_t>& openings : alike(setup, false)) {
        const OpeningView view = view_of(setup, assembly, openings.front());
        const Shown shown_one{view, openings.front(),
                              setup.openings.size() > 1 ? called(openings) + ": " : std::string{}};
        add(map_of(MapKind::cavity, setup, assembly, shown_one, results, units));
        add(cut_of(setup, assembly, shown_one, results));
        add(map_of(MapKind::bend, setup, assembly, shown_one, results, units));
        add(map_of(MapKind::pressure, setup, assembly, shown_one, results, units));
    }
    add(bent_of(setup, assembly, results, units));

    std::vector<Frame> frames;
    std::transform(sheets.begin(), sheets.end(), std::back_inserter(frames),
                   [](const Sheet& sheet) { return sheet.frame; });
    std::vector<Image> images = draw_offscreen(frames, kWidth, kHeight);
    std::vector<ReportPicture> pictures;
    for (std::size_t i = 0; i < sheets.size(); ++i) {
        if (sheets[i].scale) {
            paint_scale(images[i], *sheets[i].scale, 2.0);
        }
        pictures.push_back({sheets[i].title, sheets[i].caption, png_bytes(images[i]), kWidth, kHeight});
    }
    return pictures;
}

} // namespace evenclose
