#include "checks/clearance/sweep.hpp"
#include "checks/hands/hands.hpp"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <map>
#include <optional>
#include <stdexcept>

namespace evenclose {
namespace {

constexpr int kPlaces = 32;
// Distances are wanted this close; body parts differ by more.
constexpr double kTightness_mm = 0.5;
// Wider than the widest least gap nothing need be known.
constexpr double kInterest_mm = 600;
// What closes by less than this over the whole stroke does not close: it passes by.
constexpr double kCloses_mm = 2.0;

/// How far any point of one body can go against the other between two travels; tilt is small beside the lift.
double goes_mm(const Assembly& assembly, const ClosingGap& gap, Travel a, Travel b) {
    const auto lift = [&](Travel at) {
        return assembly.rides[assembly.bodies[gap.moving].ride].lift_mm(at) -
               assembly.rides[assembly.bodies[gap.towards].ride].lift_mm(at);
    };
    return std::abs(lift(b) - lift(a));
}

constexpr double kFlush_mm = 1.0; // drawn and built differ by less

Box box_of(const Body& body) { return bounds_of(*body.mesh, body.placement); }

/// Seen from above.
bool within_plan(const Box& inner, const Box& outer) {
    return inner.low_mm.x >= outer.low_mm.x - kFlush_mm && inner.high_mm.x <= outer.high_mm.x + kFlush_mm &&
           inner.low_mm.y >= outer.low_mm.y - kFlush_mm && inner.high_mm.y <= outer.high_mm.y + kFlush_mm;
}

/// A beam behind the head: what rises under the head's plate cannot come at it.
bool behind_head(const Assembly& assembly, const ClosingGap& gap) {
    const auto head = std::find_if(assembly.bodies.begin(), assembly.bodies.end(),
                                   [](const Body& body) { return body.part == Part::head; });
    const Part moving = assembly.bodies[gap.moving].part;
    if (head == assembly.bodies.end() || (moving != Part::platen && moving != Part::mold_lower) ||
        gap.towards == static_cast<std::size_t>(head - assembly.bodies.begin())) {
        return false;
    }
    const Box plate = box_of(*head);
    return box_of(assembly.bodies[gap.towards]).low_mm.z >= plate.low_mm.z - kFlush_mm &&
           within_plan(box_of(assembly.bodies[gap.moving]), plate);
}

/// Which platen a body goes with, 0 for the moving one, from the bottom up; none for what is not of the openings. The head
/// and what hangs at it are the last.
std::optional<std::size_t> storey(const Assembly& assembly, std::size_t index) {
    for (std::size_t i = 0; i < assembly.openings.size(); ++i) {
        const AssembledOpening& opening = assembly.openings[i];
        if (index == opening.below || index == opening.lower) {
            return i;
        }
        if (index == opening.above || index == opening.upper) {
            return i + 1;
        }
    }
    return std::nullopt;
}

/// Between them lies a platen, or they face away from each other.
bool shielded(const Assembly& assembly, const ClosingGap& gap) {
    const std::optional<std::size_t> moving = storey(assembly, gap.moving);
    const std::optional<std::size_t> towards = storey(assembly, gap.towards);
    if (!moving || !towards) {
        return false;
    }
    if (*towards != *moving + 1) {
        return true;
    }
    const Part below = assembly.bodies[gap.moving].part;
    const Part above = assembly.bodies[gap.towards].part;
    return below == Part::mold_upper || above == Part::mold_lower;
}

bool lifts_platen(Part part) {
    return part == Part::jack_body || part == Part::jack_screw || part == Part::jack_link || part == Part::jack_hose ||
           part == Part::link_shaft;
}

/// The head, what hangs from it, and what is behind it.
bool at_head(const Assembly& assembly, const Body& body) {
    const auto head = std::find_if(assembly.bodies.begin(), assembly.bodies.end(),
                                   [](const Body& each) { return each.part == Part::head; });
    return (body.part == Part::mold_upper && body.opening.value_or(0) + 1 >= assembly.openings.size()) ||
           (head != assembly.bodies.end() && box_of(body).low_mm.z >= box_of(*head).low_mm.z - kFlush_mm);
}

/// What lifts the platen from below cannot come at what hangs above it: the platen's plate is between. A sleeve goes with
/// the platen. What either closes on at the head, the opening tells.
bool beneath_platen(const Assembly& assembly, const ClosingGap& gap) {
    const Body& moving = assembly.bodies[gap.moving];
    const Body& towards = assembly.bodies[gap.towards];
    if (moving.part != Part::guide_sleeve && !lifts_platen(moving.part)) {
        return false;
    }
    if (at_head(assembly, towards)) {
        return true;
    }
    const auto platen = std::find_if(assembly.bodies.begin(), assembly.bodies.end(),
                                     [](const Body& body) { return body.part == Part::platen; });
    return moving.part != Part::guide_sleeve && platen != assembly.bodies.end() &&
           box_of(towards).low_mm.z >= box_of(*platen).high_mm.z && within_plan(box_of(moving), box_of(*platen));
}

} // namespace

const std::vector<BodyPart>& body_parts() {
    static const std::vector<BodyPart> parts{{"body", 500, 180}, {"head", 300, 140}, {"leg", 180, 90},
                                             {"foot", 120, 60},  {"arm", 120, 60},   {"hand", 100, 30},
                                             {"toes", 50, 20},   {"finger", 25, 8}};
    return parts;
}

std::vector<BodyPart> ClosingGap::can_catch() const {
    std::vector<BodyPart> parts;
    std::copy_if(body_parts().begin(), body_parts().end(), std::back_inserter(parts), [&](const BodyPart& part) {
        return closed_mm < open_mm && open_mm >= part.goes_in_mm && closed_mm < part.least_gap_mm;
    });
    return parts;
}

std::vector<ClosingGap> measure_hands(const Assembly& assembly, Progress& progress) {
    std::vector<ClosingGap> gaps;
    for (const BodyPair& pair : assembly.moving_pairs()) {
        // Mold halves may meet by design when closed; a hand between them counts all the same.
        ClosingGap gap;
        // Of two that move, the one that is picked up first.
        const auto up = [&](std::size_t body) {
            return assembly.picked_up(assembly.bodies[body].ride).value_or(Travel{0});
        };
        const bool second_moves = up(pair.second) < up(pair.first);
        gap.moving = second_moves ? pair.second : pair.first;
        gap.towards = second_moves ? pair.first : pair.second;
        if (!behind_head(assembly, gap) && !beneath_platen(assembly, gap) && !shielded(assembly, gap)) {
            gaps.push_back(gap);
        }
    }
    std::map<const TriangleMesh*, SharedClearanceMesh> prepared;
    std::map<const TriangleMesh*, std::string> refused;
    for (const ClosingGap& gap : gaps) {
        for (const std::size_t body : {gap.moving, gap.towards}) {
            const SharedMesh& mesh = assembly.bodies[body].mesh;
            const auto [place, is_new] = prepared.try_emplace(mesh.get());
            if (is_new) {
                try {
                    place->second = prepare(mesh);
                } catch (const std::invalid_argument& refusal) {
                    refused[mesh.get()] = assembly.bodies[body].name + ": " + refusal.what();
                }
            }
        }
    }
    std::atomic<std::size_t> done{0};
    tbb::parallel_for(std::size_t{0}, gaps.size(), [&](std::size_t i) {
        ClosingGap& gap = gaps[i];
        const auto swept = [&](std::size_t body) {
            const Body& b = assembly.bodies[body];
            return SweptBody{prepared.at(b.mesh.get()), b.placement, &assembly.rides[b.ride]};
        };
        const SweptBody moving = swept(gap.moving);
        const SweptBody towards = swept(gap.towards);
        if (!moving.mesh || !towards.mesh) {
            gap.known = false;
            gap.why_not = refused.at(assembly.bodies[moving.mesh ? gap.towards : gap.moving].mesh.get());
            return;
        }
        double widest = -1;
        Travel widest_at;
        gap.closed_mm = kInterest_mm;
        gap.open_mm = kInterest_mm;
        double drop = 0; // the greatest closing so far
        for (int k = 0; k <= kPlaces && !progress.cancelled(); ++k) {
            const Travel at{assembly.last.mm * k / kPlaces};
            const Slope slope = assembly.rides[1].slope_range(at).middle();
            SweptBody there = towards;
            const Body& other = assembly.bodies[gap.towards];
            if (at < assembly.picked_up(other.ride).value_or(Travel{0})) {
                there.ride = nullptr; // on its rest, level
            }
            const PoseClearance seen = clearance_at(moving, there, at, slope, kInterest_mm, kTightness_mm);
            const double gap_mm = std::min(seen.distance_mm, kInterest_mm);
            if (gap_mm > widest) {
                widest = gap_mm;
                widest_at = at;
            }
            if (widest - gap_mm > drop) {
                // Between this place and its neighbours it can be less by half of what is gone in between.
                const Travel next{assembly.last.mm * std::min(k + 1, kPlaces) / kPlaces};
                const Travel before{assembly.last.mm * std::max(k - 1, 0) / kPlaces};
                const double between =
                    k == kPlaces ? 0.0
                                 : 0.5 * std::max(goes_mm(assembly, gap, before, at), goes_mm(assembly, gap, at, next));
                drop = widest - gap_mm;
                gap.open_mm = widest;
                gap.open_at = widest_at;
                gap.closed_mm = std::max(0.0, gap_mm - between - kTightness_mm);
                gap.closed_at = at;
                gap.at_mm = 0.5 * (seen.on_first_mm + seen.on_second_mm);
            }
        }
        if (drop < kCloses_mm) {
            gap.open_mm = gap.closed_mm = widest; // does not close
        }
        progress.tell(static_cast<double>(++done) / static_cast<double>(gaps.size()));
    });
    return gaps;
}

} // namespace evenclose
