#include "checks/level/guides_run.hpp"

#include "checks/phrase.hpp"
#include "scene/press/guide_limits.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

namespace evenclose {
namespace {

// A guide that uses more than this share of its play, or of its lever, rubs before it binds (common practice, no source).
constexpr double kGuideShare = 0.7;
// Less of the sleeve on its post than this wears one end and tips easily (common practice, no source).
constexpr double kEngagedShare = 0.75;
constexpr int kPlaces = 32;

double steepest(const SlopeRange& range) {
    const double x = std::max(std::abs(range.low.x), std::abs(range.high.x));
    const double y = std::max(std::abs(range.low.y), std::abs(range.high.y));
    return std::atan(std::hypot(x, y));
}

double jack_span_mm(const Setup& setup) {
    double span = 0;
    for (const Jack& a : setup.press->jacks) {
        for (const Jack& b : setup.press->jacks) {
            span = std::max(span, glm::distance(Vec2{a.foot_mm}, Vec2{b.foot_mm}));
        }
    }
    return span;
}

/// A sleeve that is off its post holds nothing; told by itself.
double allowed_rad(const Guide& guide, double engaged_mm) {
    return engaged_mm > 0 ? tilt_until_contact_rad(guide.bore_diameter_mm, guide.post_diameter_mm, engaged_mm)
                          : std::numeric_limits<double>::infinity();
}

} // namespace

std::vector<GuideRun> measure_guides(const Setup& setup, const Assembly& assembly) {
    const Press& press = *setup.press;
    const Lifting lifting(press, assembly.level_source);
    const Ride jacks_alone = lifting.rides().jacks_alone; // encloses what the jacks may do, between its knots too
    std::vector<Travel> places;
    for (int i = 0; i <= kPlaces; ++i) {
        places.push_back({assembly.last.mm * i / kPlaces});
    }
    for (const RideKnot& knot : jacks_alone.knots) { // the slope is straight between them: worst at one of them
        if (knot.at < assembly.last) {
            places.push_back(knot.at);
        }
    }
    std::sort(places.begin(), places.end());
    places.erase(std::unique(places.begin(), places.end()), places.end());

    std::vector<GuideRun> runs;
    for (const Guide& guide : press.guides) {
        GuideRun run;
        run.guide = guide.name;
        run.length_mm = guide.length_mm;
        run.lever_mm = std::numeric_limits<double>::infinity();
        for (const Jack& jack : press.jacks) {
            run.lever_mm = std::min(run.lever_mm, glm::distance(Vec2{jack.foot_mm}, guide.at_mm));
        }
        for (const Travel at : places) {
            const double face_z = lifting.open_height_mm() + press.platen.thickness_mm + lifting.lift_mm(at);
            GuidePoint point;
            point.at = at;
            point.engaged_mm = engaged_length_mm(guide, face_z);
            point.allowed_rad = allowed_rad(guide, point.engaged_mm);
            point.tilt_rad = steepest(jacks_alone.slope_range(at));
            if (guide.friction) {
                point.binding_lever_mm = binding_lever_mm(point.engaged_mm, *guide.friction);
            }
            run.points.push_back(point);
            const GuidePoint& tightest = run.points[run.tightest];
            if (point.tilt_rad / point.allowed_rad > tightest.tilt_rad / tightest.allowed_rad) {
                run.tightest = run.points.size() - 1;
            }
            if (point.engaged_mm < run.points[run.least_engaged].engaged_mm) {
                run.least_engaged = run.points.size() - 1;
            }
        }
        runs.push_back(std::move(run));
    }
    return runs;
}

namespace {

Finding about(const GuideRun& run, const GuidePoint& point) {
    Finding finding;
    finding.check = "level";
    finding.bodies = {run.guide};
    finding.travel = TravelInterval{point.at, point.at};
    return finding;
}

Finding judge_tilt(const std::vector<GuideRun>& guides, const Setup& setup) {
    const auto share = [](const GuideRun& run) {
        const GuidePoint& point = run.points[run.tightest];
        return std::pair(point.tilt_rad / point.allowed_rad, -point.allowed_rad); // level ones: the least play
    };
    const GuideRun& run = *std::max_element(guides.begin(), guides.end(),
                                            [&](const GuideRun& a, const GuideRun& b) { return share(a) < share(b); });
    const GuidePoint& point = run.points[run.tightest];
    Finding finding = about(run, point);
    finding.unit = "rad";
    finding.value = point.tilt_rad;
    finding.limit = point.allowed_rad;
    finding.margin = point.allowed_rad - point.tilt_rad;
    const std::string numbers = fmt::format("{:.2f} of {:.2f} mrad", 1000 * point.tilt_rad, 1000 * point.allowed_rad);
    finding.why =
        fmt::format("{} lets its sleeve tilt until both ends touch the post; the platen comes nearest to that "
                    "after {} of travel.",
                    run.guide, length_mark(point.at.mm));
    const double span = jack_span_mm(setup);
    if (point.tilt_rad >= point.allowed_rad) {
        finding.verdict = Verdict::no_go;
        finding.title = fmt::format("{} binds: the platen tilts {} that its play allows", run.guide, numbers);
        finding.remedy = fmt::format("Level the jacks to within {} of each other, or give the sleeve more play.",
                                     length_mark(point.allowed_rad * span));
    } else if (point.tilt_rad > kGuideShare * point.allowed_rad) {
        finding.verdict = Verdict::marginal;
        finding.title = fmt::format("{} will rub: the platen tilts {} that its play allows", run.guide, numbers);
        finding.remedy = fmt::format("Level the jacks to within {} of each other.",
                                     length_mark(kGuideShare * point.allowed_rad * span));
    } else {
        finding.verdict = Verdict::go;
        finding.title = fmt::format("Guides run free: the platen tilts {} that {} allows", numbers, run.guide);
    }
    return finding;
}

/// Only told where a sleeve leaves its post.
std::optional<Finding> judge_engaged(const std::vector<GuideRun>& guides) {
    const auto share = [](const GuideRun& run) { return run.points[run.least_engaged].engaged_mm / run.length_mm; };
    const GuideRun& run = *std::min_element(guides.begin(), guides.end(),
                                            [&](const GuideRun& a, const GuideRun& b) { return share(a) < share(b); });
    if (share(run) >= kEngagedShare) {
        return std::nullopt;
    }
    const GuidePoint& point = run.points[run.least_engaged];
    Finding finding = about(run, point);
    finding.unit = "mm";
    finding.value = point.engaged_mm;
    finding.limit = kEngagedShare * run.length_mm;
    finding.margin = *finding.value - *finding.limit;
    finding.verdict = point.engaged_mm > 0 ? Verdict::marginal : Verdict::no_go;
    finding.title = point.engaged_mm > 0
                        ? fmt::format("Only {} of {}'s sleeve, {} long, is still on its post",
                                      length_mark(point.engaged_mm), run.guide, length_mark(run.length_mm))
                        : fmt::format("{}'s sleeve comes off its post", run.guide);
    finding.why = "What is left on the post guides the platen, by its own length.";
    finding.remedy = fmt::format("Make the post longer by {} or more.", length_mark(run.length_mm - point.engaged_mm));
    return finding;
}

Finding judge_friction(const std::vector<GuideRun>& guides, const Setup& setup) {
    const GuideRun* worst = nullptr;
    const auto lever_share = [](const GuideRun& run) {
        const double binding = *run.points[run.least_engaged].binding_lever_mm;
        return binding > 0 ? run.lever_mm / binding : std::numeric_limits<double>::infinity();
    };
    for (const GuideRun& run : guides) {
        if (!run.points.front().binding_lever_mm) {
            Finding finding = about(run, run.points.front());
            finding.verdict = Verdict::not_checked;
            finding.unit = "mm";
            finding.title = fmt::format("Whether {} binds by friction was not checked", run.guide);
            finding.why = "The press document does not give its \"friction\".";
            finding.remedy = "Add it to the guide: about 0.1 greased steel on bronze, 0.2 dry.";
            return finding;
        }
        if (worst == nullptr || lever_share(run) > lever_share(*worst)) {
            worst = &run;
        }
    }
    const GuidePoint& point = worst->points[worst->least_engaged];
    Finding finding = about(*worst, point);
    finding.unit = "mm";
    finding.value = worst->lever_mm;
    finding.limit = *point.binding_lever_mm;
    finding.margin = *finding.limit - *finding.value;
    const auto guide = std::find_if(setup.press->guides.begin(), setup.press->guides.end(),
                                    [&](const Guide& g) { return g.name == worst->guide; });
    finding.why = fmt::format(
        "A guide {} long with friction {:g} holds itself when it is pushed at {} or more from its "
        "axis, however hard; the nearest jack pushes at {}.",
        length_mark(point.engaged_mm), *guide->friction, length_mark(*finding.limit), length_mark(*finding.value));
    const double share = lever_share(*worst);
    if (share < kGuideShare) {
        finding.verdict = Verdict::go;
        finding.title = fmt::format("No guide binds by friction: {} is pushed at {}, it would bind at {}", worst->guide,
                                    length_mark(*finding.value), length_mark(*finding.limit));
        return finding;
    }
    finding.verdict = share < 1 ? Verdict::marginal : Verdict::no_go;
    finding.title = share < 1
                        ? fmt::format("{} is near to binding by friction: pushed at {}, it binds at {}", worst->guide,
                                      length_mark(*finding.value), length_mark(*finding.limit))
                        : fmt::format("{} binds by friction when one jack leads: pushed at {}, it holds from {} on",
                                      worst->guide, length_mark(*finding.value), length_mark(*finding.limit));
    finding.remedy = fmt::format("Make its sleeve {} long, or grease it, or stand a jack nearer to it.",
                                 length_mark(2 * *guide->friction * worst->lever_mm / kGuideShare));
    return finding;
}

} // namespace

std::vector<Finding> judge(const std::vector<GuideRun>& guides, const Setup& setup) {
    if (guides.empty()) {
        Finding finding;
        finding.check = "level";
        finding.unit = "rad";
        finding.verdict = Verdict::not_checked;
        finding.title = "Whether the guides bind was not checked";
        finding.why = "The press document has no \"guides\": post, bore and sleeve length are missing.";
        finding.remedy = "Add the guides, or hold the platen level across the jacks' line by other means.";
        return {finding};
    }
    std::vector<Finding> findings;
    if (std::optional<Finding> engaged = judge_engaged(guides)) {
        findings.push_back(std::move(*engaged));
    }
    // A sleeve that is off its post holds nothing, so there is nothing that could bind: that alone is told.
    const bool off = std::any_of(guides.begin(), guides.end(),
                                 [](const GuideRun& run) { return run.points[run.least_engaged].engaged_mm <= 0; });
    if (!off) {
        findings.push_back(judge_tilt(guides, setup));
        findings.push_back(judge_friction(guides, setup));
    }
    return findings;
}

} // namespace evenclose
