#include "viewer/app/app.hpp"

#include "checks/bend/bend.hpp"
#include "checks/cavity/cavity.hpp"

#include "viewer/app/clearance_band.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace evenclose {
namespace {

// A finding's slope belongs to its stretch of travel; a hair's breadth beside it is the same place to the eye.
constexpr double kSamePlace_mm = 0.05;

bool within(const TravelInterval& interval, Travel at) {
    return at.mm >= interval.from.mm - kSamePlace_mm && at.mm <= interval.to.mm + kSamePlace_mm;
}

Slope steepest(const SlopeRange& range) {
    const std::array<Slope, 4> corners{range.high, range.low, Slope{range.high.x, range.low.y},
                                       Slope{range.low.x, range.high.y}};
    return *std::max_element(corners.begin(), corners.end(),
                             [](Slope a, Slope b) { return std::hypot(a.x, a.y) < std::hypot(b.x, b.y); });
}

} // namespace

std::optional<Verdict> App::verdict() const {
    if (!results || results->cancelled) {
        return std::nullopt;
    }
    return worst_of(results->findings);
}

bool App::can_load_in() const {
    return assembly && setup && setup->press && setup->press->load_from && !setup->openings.empty();
}

OpeningView shown_opening(const App& app) { return view_of(*app.setup, *app.assembly, app.opening); }

std::shared_ptr<const CavityMeasure> shown_cavity(const App& app) {
    if (!app.results) {
        return nullptr;
    }
    return app.opening < app.results->cavities.size() ? app.results->cavities[app.opening] : app.results->cavity;
}

ShownSlope shown_slope(const App& app) {
    if (!app.assembly || app.assembly->rides.size() < 2) {
        return {};
    }
    const SlopeRange range = app.assembly->rides[1].slope_range(app.travel);
    if (app.loading_in) { // what slides in lies on the platen as it lies when open
        return {range.middle(), ShownSlope::Of::nominal};
    }
    if (app.shown && app.shown->slope && app.shown->travel && within(*app.shown->travel, app.travel)) {
        return {*app.shown->slope, ShownSlope::Of::finding};
    }
    if (app.tilt_magnified > 1.0) {
        return {steepest(range), ShownSlope::Of::steepest};
    }
    return {range.middle(), ShownSlope::Of::nominal};
}

const BentShapes* shown_bent(const App& app) {
    // A hand on the rail stops within this of closed.
    constexpr double kAtClosed_mm = 0.5;
    return app.bent != nullptr && app.travel.mm > app.last().mm - kAtClosed_mm && !app.loading_in ? app.bent.get()
                                                                                                  : nullptr;
}

double daylight_mm(const Assembly& assembly, Travel at) {
    return assembly.daylight_mm - (assembly.rides.size() > 1 ? assembly.rides[1].lift_mm(at) : at.mm);
}

std::optional<std::size_t> finding_of_pair(const App& app, std::size_t profile) {
    const PairProfile& pair = app.results->profiles[profile];
    const std::string& first = app.assembly->bodies[pair.first].name;
    const std::string& second = app.assembly->bodies[pair.second].name;
    const auto& findings = app.results->findings;
    const auto found = std::find_if(findings.begin(), findings.end(), [&](const Finding& finding) {
        const auto names = [&](const std::string& name) {
            return std::find(finding.bodies.begin(), finding.bodies.end(), name) != finding.bodies.end();
        };
        return finding.check == "travel" && finding.bodies.size() == 2 && names(first) && names(second);
    });
    if (found == findings.end()) {
        return std::nullopt;
    }
    return static_cast<std::size_t>(found - findings.begin());
}

std::vector<std::string> bodies_named(const Assembly& assembly, const std::string& name) {
    std::vector<std::string> parts;
    for (const Body& body : assembly.bodies) {
        if (body.name == name) {
            return {name};
        }
        if (body.name == name + " body" || body.name == name + " screw" || body.name == name + " post" ||
            body.name == name + " sleeve") {
            parts.push_back(body.name);
        }
    }
    return parts;
}

bool shows_forces(const App& app) {
    return app.results && app.results->frame && app.results->frame->computed() && !app.loading_in &&
           (app.seeing == Seeing::pressure || shown_bent(app) != nullptr);
}

Finding part_as_finding(const App& app, const std::string& body) {
    constexpr double kPlanned = 0.9; // as the `frame` check
    Finding finding;
    finding.check = "frame";
    finding.bodies = {body};
    if (app.results && app.results->frame) {
        const std::vector<PartUse>& uses = app.results->frame->uses;
        const auto use = std::find_if(uses.begin(), uses.end(), [&](const PartUse& part) { return part.part == body; });
        if (use != uses.end() && use->known) {
            finding.verdict = use->use > 1 ? Verdict::no_go : use->use > kPlanned ? Verdict::marginal : Verdict::go;
        }
    }
    return finding;
}

Finding as_finding(const Assembly& assembly, const PairProfile& profile) {
    Finding finding;
    finding.check = "travel";
    finding.bodies = {assembly.bodies[profile.first].name, assembly.bodies[profile.second].name};
    if (profile.sweep.contact == Contact::not_checked || profile.sweep.contact == Contact::cancelled) {
        return finding;
    }
    const bool foul = profile.sweep.contact == Contact::foul || profile.sweep.contact == Contact::inside;
    finding.verdict = foul ? Verdict::no_go : Verdict::go;
    const Travel at = worst_travel(profile.sweep);
    finding.travel = TravelInterval{at, at};
    if (at == profile.sweep.least_at) {
        finding.slope = profile.sweep.least_slope;
        finding.at_mm = 0.5 * (profile.sweep.on_first_mm + profile.sweep.on_second_mm);
    }
    return finding;
}

bool App::can_see(Seeing what) const {
    if (!assembly || !setup) {
        return false;
    }
    const std::shared_ptr<const CavityMeasure> cavity = shown_cavity(*this);
    const bool gap = cavity && cavity->not_measured.empty();
    switch (what) {
    case Seeing::press:
        return true;
    case Seeing::gap:
    case Seeing::cut:
        return gap;
    case Seeing::curvature:
        if (results && opening < results->bends.size()) {
            return results->bends[opening] && results->bends[opening]->not_measured.empty();
        }
        return results && results->bend && results->bend->not_measured.empty();
    case Seeing::pressure:
        return gap && results->frame && results->frame->computed() && !results->frame->deck.empty();
    }
    return false;
}

} // namespace evenclose
