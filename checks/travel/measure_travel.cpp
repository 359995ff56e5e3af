#include "checks/travel/travel.hpp"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <map>
#include <optional>
#include <stdexcept>

namespace evenclose {
namespace {

bool is_mold(Part part) { return part == Part::mold_lower || part == Part::mold_upper; }

SweptBody swept(const Assembly& assembly, std::size_t body, const SharedClearanceMesh& mesh) {
    const Body& b = assembly.bodies[body];
    return {mesh, b.placement, &assembly.rides[b.ride]};
}

/// Two bodies over the travel in which they move against each other.
struct SweptPair {
    SweptBody first, second;
    Travel to;
};

/// Of two that both go with platens, the one that is picked up later stands still until then; after that they go
/// together.
SweptPair swept_pair(const Assembly& assembly, const BodyPair& pair, const SharedClearanceMesh& first,
                     const SharedClearanceMesh& second) {
    SweptPair swept_both{swept(assembly, pair.first, first), swept(assembly, pair.second, second), assembly.last};
    const std::optional<Travel> up_first = assembly.picked_up(assembly.bodies[pair.first].ride);
    const std::optional<Travel> up_second = assembly.picked_up(assembly.bodies[pair.second].ride);
    if (up_first && up_second) {
        (*up_first > *up_second ? swept_both.first : swept_both.second).ride = nullptr;
        swept_both.to = std::min(assembly.last, std::max(*up_first, *up_second));
    }
    return swept_both;
}

/// As it is where they begin to go together it stays.
void stays_so(Sweep& sweep, Travel from, Travel last) {
    if (!(from < last)) {
        return;
    }
    if (!sweep.spans.empty()) {
        sweep.spans.push_back({from, last, sweep.spans.back().lower_mm, sweep.spans.back().upper_mm});
    }
    if (!sweep.contacts.empty() && !(sweep.contacts.back().to < from)) {
        sweep.contacts.back().to = last;
    }
}

/// What a mesh is prepared as, or why it cannot be.
struct Prepared {
    SharedClearanceMesh mesh;
    std::string refused;
};

Prepared prepare_or_say(const SharedMesh& mesh) {
    try {
        return {prepare(mesh), {}};
    } catch (const std::invalid_argument& refusal) {
        return {nullptr, refusal.what()};
    }
}

} // namespace

double wanted_clearance_mm(const Setup& setup, const Assembly& assembly, const PairProfile& pair) {
    const double running_mm = setup.limits.running_clearance_mm;
    if (is_mold(assembly.bodies[pair.first].part) && is_mold(assembly.bodies[pair.second].part)) {
        const std::size_t opening = assembly.bodies[pair.first].opening.value_or(0);
        if (opening == assembly.bodies[pair.second].opening.value_or(0)) {
            return std::min(running_mm, 0.5 * setup.openings[opening].mold->stack.pressed_thickness_mm());
        }
    }
    return running_mm;
}

double interest_mm(const Limits& limits) {
    return std::max(SweepRequest{}.interest_mm, limits.running_clearance_mm + 1.0);
}

std::vector<PairProfile> measure_travel(const Setup& setup, const Assembly& assembly, Progress& progress) {
    const std::vector<BodyPair> pairs = assembly.moving_pairs();

    // One hierarchy a mesh, however many bodies use it.
    std::map<const TriangleMesh*, Prepared> prepared;
    for (const BodyPair& pair : pairs) {
        for (const std::size_t body : {pair.first, pair.second}) {
            prepared.try_emplace(assembly.bodies[body].mesh.get());
        }
    }
    std::vector<std::pair<SharedMesh, Prepared*>> to_prepare;
    for (auto& [mesh, place] : prepared) {
        const auto body = std::find_if(assembly.bodies.begin(), assembly.bodies.end(),
                                       [&, wanted = mesh](const Body& b) { return b.mesh.get() == wanted; });
        to_prepare.emplace_back(body->mesh, &place);
    }
    tbb::parallel_for(std::size_t{0}, to_prepare.size(), [&](std::size_t i) {
        if (!progress.cancelled()) {
            *to_prepare[i].second = prepare_or_say(to_prepare[i].first);
        }
    });

    std::vector<PairProfile> profiles(pairs.size());
    std::atomic<std::size_t> done{0};
    Progress each(progress, 0, 0); // hears the cancel; how far one pair is says nothing of the whole
    tbb::parallel_for(std::size_t{0}, pairs.size(), [&](std::size_t i) {
        PairProfile& profile = profiles[i];
        profile.first = pairs[i].first;
        profile.second = pairs[i].second;
        const Prepared& first = prepared.at(assembly.bodies[profile.first].mesh.get());
        const Prepared& second = prepared.at(assembly.bodies[profile.second].mesh.get());
        profile.first_mesh = first.mesh;
        profile.second_mesh = second.mesh;
        if (progress.cancelled()) {
            profile.sweep.contact = Contact::cancelled;
        } else if (!first.mesh || !second.mesh) {
            profile.sweep.contact = Contact::not_checked;
            profile.sweep.why_not = first.mesh ? assembly.bodies[profile.second].name + ": " + second.refused
                                               : assembly.bodies[profile.first].name + ": " + first.refused;
        } else {
            const SweptPair pair = swept_pair(assembly, pairs[i], first.mesh, second.mesh);
            SweepRequest request;
            request.from = Travel{0};
            request.to = pair.to;
            request.interest_mm = interest_mm(setup.limits);
            profile.sweep = sweep(pair.first, pair.second, request, each);
            stays_so(profile.sweep, pair.to, assembly.last);
        }
        progress.tell(static_cast<double>(++done) / static_cast<double>(pairs.size()));
    });
    return profiles;
}

std::vector<StandingFoul> standing_fouls(const Assembly& assembly, Progress& progress) {
    std::vector<StandingFoul> fouls;
    std::map<const TriangleMesh*, SharedClearanceMesh> prepared;
    const auto mesh_of = [&](const Body& body) {
        const auto [place, is_new] = prepared.try_emplace(body.mesh.get());
        if (is_new) {
            place->second = prepare_or_say(body.mesh).mesh; // refused ones are told by measure_travel and `mesh`
        }
        return place->second;
    };
    for (std::size_t half = 0; half < assembly.bodies.size(); ++half) {
        const Body& mold = assembly.bodies[half];
        if (!is_mold(mold.part)) {
            continue;
        }
        for (std::size_t other = 0; other < assembly.bodies.size() && !progress.cancelled(); ++other) {
            const Body& body = assembly.bodies[other];
            if (other == half || body.ride != mold.ride || assembly.may_touch(half, other)) {
                continue;
            }
            const SharedClearanceMesh mold_mesh = mesh_of(mold);
            const SharedClearanceMesh other_mesh = mesh_of(body);
            if (!mold_mesh || !other_mesh) {
                continue;
            }
            const PoseClearance there = clearance_at(swept(assembly, half, mold_mesh),
                                                     swept(assembly, other, other_mesh), Travel{0}, Slope{}, 1.0, 0.05);
            if (there.contact == Contact::foul || there.contact == Contact::inside) {
                fouls.push_back({half, other, there.contact, there.on_first_mm});
            }
        }
    }
    return fouls;
}

Shift shift_that_frees(const Setup& setup, const Assembly& assembly, const PairProfile& pair, Progress& progress) {
    Shift shift;
    const Body& first = assembly.bodies[pair.first];
    const Body& second = assembly.bodies[pair.second];
    const bool move_second = is_mold(second.part) || (!is_mold(first.part) && assembly.rides[second.ride].fixed());
    shift.body = move_second ? pair.second : pair.first;

    const SharedClearanceMesh first_mesh = prepare(first.mesh);
    const SharedClearanceMesh second_mesh = prepare(second.mesh);
    const double wanted_mm = wanted_clearance_mm(setup, assembly, pair);
    const SweptPair as_they_go = swept_pair(assembly, {pair.first, pair.second}, first_mesh, second_mesh);
    SweepRequest request;
    request.from = Travel{0};
    request.to = as_they_go.to;
    // Nearer than the wanted clearance is all that matters here, and to a tenth of a millimetre.
    request.interest_mm = wanted_mm + 1.0;
    request.tightness_mm = 0.1;
    // Where it fouls now it most likely still does after a short shift: looking there first spares most sweeps.
    struct Probe {
        Travel at;
        Slope slope;
    };
    std::vector<Probe> probes{{pair.sweep.least_at, pair.sweep.least_slope}};
    const Ride& tilting = assembly.rides[first.ride].tilts() ? assembly.rides[first.ride] : assembly.rides[second.ride];
    std::vector<Travel> places{request.to};
    for (const ContactSpan& span : pair.sweep.contacts) {
        places.insert(places.end(), {span.from, Travel{0.5 * (span.from.mm + span.to.mm)}, span.to});
    }
    for (const Travel at : places) {
        const SlopeRange range = tilting.slope_range(at);
        for (const Slope slope : {range.middle(), range.low, range.high, Slope{range.low.x, range.high.y},
                                  Slope{range.high.x, range.low.y}}) {
            probes.push_back({at, slope});
        }
    }
    Progress quiet(progress, 0, 0);
    const auto clear_with = [&](const Vec3& by_mm) {
        SweptBody a = as_they_go.first;
        SweptBody b = as_they_go.second;
        (move_second ? b : a).placement.translation_mm += by_mm;
        const auto fouls_at = [&](const Probe& probe) {
            const PoseClearance seen = clearance_at(a, b, probe.at, probe.slope, request.interest_mm, 0.01);
            return seen.contact != Contact::clear || seen.distance_mm < wanted_mm - 0.01;
        };
        if (std::any_of(probes.begin(), probes.end(), fouls_at)) {
            return false;
        }
        const Sweep tried = sweep(a, b, request, quiet);
        return tried.contact == Contact::clear && tried.least_lower_mm >= wanted_mm;
    };

    // Farther than this nobody moves a mold or a bolt to cure a foul. Whole half millimetres are told: a shop shifts
    // no finer.
    constexpr double kFarthest_mm = 128.0;
    constexpr double kStep_mm = 0.5;
    double best_mm = kFarthest_mm + kStep_mm; // a way is only worth trying while it is shorter than this
    for (const Vec3 way : {Vec3{1, 0, 0}, Vec3{-1, 0, 0}, Vec3{0, 1, 0}, Vec3{0, -1, 0}}) {
        // Double until it is clear, then halve back: the least clear shift where being clear grows with the shift; in
        // any case one that was seen to be clear.
        double fouls_mm = 0;
        double clear_mm = kStep_mm;
        while (clear_mm < best_mm && !clear_with(clear_mm * way)) {
            fouls_mm = clear_mm;
            clear_mm *= 2;
        }
        if (clear_mm >= best_mm) {
            clear_mm = best_mm - kStep_mm; // the longest that would still be a gain
            if (clear_mm <= fouls_mm || !clear_with(clear_mm * way)) {
                continue;
            }
        }
        while (clear_mm - fouls_mm > kStep_mm) {
            const double middle_mm = fouls_mm + kStep_mm * std::floor(0.5 * (clear_mm - fouls_mm) / kStep_mm);
            (clear_with(middle_mm * way) ? clear_mm : fouls_mm) = middle_mm;
        }
        best_mm = clear_mm;
        shift.by_mm = clear_mm * way;
        shift.found = true;
    }
    if (progress.cancelled()) {
        return {};
    }
    return shift;
}

} // namespace evenclose
