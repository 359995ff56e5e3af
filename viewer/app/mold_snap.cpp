#include "viewer/app/mold_snap.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

namespace evenclose {
namespace {

// So near to a plate's face a hole opens in it, or a pin's foot stands on it.
constexpr double kAtFace_mm = 0.5;
// A pin is told by its corners, a hole by its facets' corners too: coarse exports round both.
constexpr double kTakes_mm = 0.2;
// A hole that is wider than this share of its pin registers nothing (common practice, no source).
constexpr double kLoose = 0.25;
constexpr double kLoose_mm = 0.5;
// Drilled by a jig, printed, drawn: what is off by more does not go on (common practice, no source).
constexpr double kLinesUp_mm = 0.5;
// A perforated table against a mold full of holes is looked at no further.
constexpr std::size_t kMostPairs = 4000;
// A line lies in the way of every short move, a registration seldom: it pulls from half as far.
constexpr double kLinePull = 0.5;

bool takes(const RoundFeature& pin, const RoundFeature& hole) {
    const double wider = hole.diameter_mm - pin.diameter_mm;
    return wider >= -kTakes_mm && wider <= kLoose * pin.diameter_mm + kLoose_mm;
}

bool goes_with(const RoundFeature& a, const RoundFeature& b) {
    if (a.pin && b.pin) {
        return false;
    }
    if (a.pin || b.pin) {
        return a.pin ? takes(a, b) : takes(b, a);
    }
    return std::abs(a.diameter_mm - b.diameter_mm) <= kLoose_mm;
}

Vec2 turned(Vec2 place, double turn_rad) {
    const double c = std::cos(turn_rad), s = std::sin(turn_rad);
    return {c * place.x - s * place.y, s * place.x + c * place.y};
}

struct Pair {
    std::size_t of_plate, of_mold;
    Vec2 at_mm; // the mold's place that brings the two together
};

/// Those that line up at `at`, each feature once; where they bring it on the whole.
struct LinedUp {
    std::size_t count = 0;
    Vec2 at_mm{0.0};
    bool pins = false;
};
LinedUp lined_up(const std::vector<Pair>& pairs, const std::vector<RoundFeature>& plate,
                 const std::vector<RoundFeature>& mold, Vec2 at) {
    std::vector<bool> plate_met(plate.size()), mold_met(mold.size());
    LinedUp lined;
    for (const Pair& pair : pairs) {
        if (glm::length(pair.at_mm - at) <= kLinesUp_mm && !plate_met[pair.of_plate] && !mold_met[pair.of_mold]) {
            plate_met[pair.of_plate] = mold_met[pair.of_mold] = true;
            lined.pins = lined.pins || plate[pair.of_plate].pin || mold[pair.of_mold].pin;
            lined.at_mm += pair.at_mm;
            ++lined.count;
        }
    }
    lined.at_mm /= static_cast<double>(std::max<std::size_t>(lined.count, 1));
    return lined;
}

/// Of a plate as a mesh: what opens in, or stands on, its working face at z = 0; `down` for the head.
std::vector<RoundFeature> at_working_face(const Platen& plate, bool down) {
    std::vector<RoundFeature> found;
    if (!plate.mesh) {
        return found;
    }
    for (const RoundFeature& feature : *round_features_of(plate.mesh)) {
        const double low = down ? -feature.to_z_mm : feature.from_z_mm;
        const double high = down ? -feature.from_z_mm : feature.to_z_mm;
        const bool stands_out = feature.pin && high > kAtFace_mm && low <= kAtFace_mm;
        const bool opens = !feature.pin && std::abs(high) <= kAtFace_mm;
        if (stands_out || opens) {
            found.push_back(feature);
        }
    }
    return found;
}

/// Of a half: what opens in its back, or stands out of it.
std::vector<RoundFeature> at_back(const MoldHalf& half, bool upper) {
    std::vector<RoundFeature> found;
    if (!half.mesh || !std::holds_alternative<MeshHalf>(half.shape)) {
        return found;
    }
    const Box box = bounds_of(*half.mesh);
    for (const RoundFeature& feature : *round_features_of(half.mesh)) {
        if (upper ? feature.to_z_mm >= box.high_mm.z - kAtFace_mm : feature.from_z_mm <= box.low_mm.z + kAtFace_mm) {
            found.push_back(feature);
        }
    }
    return found;
}

const Platen& plate_under(const Setup& setup, std::size_t opening) {
    return opening == 0 ? setup.press->platen : setup.intermediate_platens[opening - 1].plate;
}

const Platen& plate_over(const Setup& setup, std::size_t opening) {
    return opening + 1 == setup.openings.size() ? setup.press->head : setup.intermediate_platens[opening].plate;
}

/// An intermediate platen's mesh has the middle of its upper face at its origin; its underside is not looked at.
void add_registration(const Setup& setup, std::size_t opening, SnapTargets& targets) {
    const Opening& stands = setup.openings[opening];
    if (!stands.mold) {
        return;
    }
    const Platen& under = plate_under(setup, opening);
    if (const auto features = at_working_face(under, false); !features.empty()) {
        targets.places = registered_places(features, at_back(stands.mold->lower, false), stands.turn_rad, "platen's");
    }
    const Platen& over = plate_over(setup, opening);
    if (opening + 1 < setup.openings.size()) {
        return;
    }
    if (const auto features = at_working_face(over, true); !features.empty()) {
        for (SnapTargets::Place& place :
             registered_places(features, at_back(stands.mold->upper, true), stands.turn_rad, "head's")) {
            place.at_mm += over.centre_mm - under.centre_mm;
            targets.places.push_back(std::move(place));
        }
    }
}

} // namespace

std::vector<SnapTargets::Place> registered_places(const std::vector<RoundFeature>& plate,
                                                  const std::vector<RoundFeature>& mold, double turn_rad,
                                                  const std::string& whose) {
    std::vector<Pair> pairs;
    for (std::size_t i = 0; i < plate.size(); ++i) {
        for (std::size_t j = 0; j < mold.size() && pairs.size() < kMostPairs; ++j) {
            if (goes_with(plate[i], mold[j])) {
                pairs.push_back({i, j, plate[i].centre_mm - turned(mold[j].centre_mm, turn_rad)});
            }
        }
    }
    std::vector<LinedUp> best;
    for (const Pair& pair : pairs) {
        const LinedUp lined = lined_up(pairs, plate, mold, pair.at_mm);
        if (!best.empty() && lined.count < best.front().count) {
            continue;
        }
        if (!best.empty() && lined.count > best.front().count) {
            best.clear();
        }
        const bool known = std::any_of(best.begin(), best.end(), [&](const LinedUp& one) {
            return glm::length(one.at_mm - lined.at_mm) <= kLinesUp_mm;
        });
        if (!known) {
            best.push_back(lined);
        }
    }
    std::vector<SnapTargets::Place> places;
    places.reserve(best.size());
    for (const LinedUp& lined : best) {
        places.push_back({lined.at_mm, fmt::format("at the {} {}{}", whose, lined.pins ? "pin" : "hole",
                                                   lined.count == 1 ? "" : "s")});
    }
    return places;
}

SnapTargets snap_targets(const Setup& setup, std::size_t opening) {
    SnapTargets targets;
    add_registration(setup, opening, targets);
    const auto both = [&](Vec2 at, const std::string& words) {
        targets.lines.push_back({false, at.x, words});
        targets.lines.push_back({true, at.y, words});
    };
    both({0.0, 0.0}, "in the platen's middle");
    const Vec2 middle = plate_under(setup, opening).centre_mm;
    Vec2 jacks{0.0};
    for (const Jack& jack : setup.press->jacks) {
        jacks += Vec2(jack.foot_mm) / static_cast<double>(setup.press->jacks.size());
    }
    if (!setup.press->jacks.empty()) {
        both(jacks - middle, "over the jacks' middle");
    }
    for (std::size_t i = 0; i < setup.openings.size(); ++i) {
        if (i != opening) {
            both(setup.openings[i].at_mm + plate_under(setup, i).centre_mm - middle,
                 fmt::format("in line with opening {}", i + 1));
        }
    }
    both(setup.openings[opening].at_mm, "where it stood");
    return targets;
}

SnappedMold snapped_mold(Vec2 at_mm, const SnapTargets& targets, double pull_mm) {
    const SnapTargets::Place* nearest = nullptr;
    for (const SnapTargets::Place& place : targets.places) {
        const double off = glm::length(place.at_mm - at_mm);
        if (off <= pull_mm && (nearest == nullptr || off < glm::length(nearest->at_mm - at_mm))) {
            nearest = &place;
        }
    }
    if (nearest != nullptr) {
        return {nearest->at_mm, nearest->words};
    }
    const auto line_near = [&](bool across, double mm) {
        const SnapTargets::Line* found = nullptr;
        for (const SnapTargets::Line& line : targets.lines) {
            const double off = std::abs(line.at_mm - mm);
            if (line.across == across && off <= kLinePull * pull_mm &&
                (found == nullptr || off < std::abs(found->at_mm - mm))) {
                found = &line;
            }
        }
        return found;
    };
    const SnapTargets::Line* along = line_near(false, at_mm.x);
    const SnapTargets::Line* across = line_near(true, at_mm.y);
    SnappedMold result{{along != nullptr ? along->at_mm : std::round(at_mm.x),
                        across != nullptr ? across->at_mm : std::round(at_mm.y)},
                       {}};
    if (along != nullptr && across != nullptr && along->words == across->words) {
        result.words = along->words;
    } else {
        result.words = along != nullptr ? along->words + " along" : "";
        if (across != nullptr) {
            result.words += (result.words.empty() ? "" : ", ") + across->words + " across";
        }
    }
    return result;
}

} // namespace evenclose
