#include "checks/frame/frame_check.hpp"

#include "checks/phrase.hpp"
#include "scene/press/built_up.hpp"

#include <Eigen/Dense>

#include <fmt/format.h>

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>
#include <stdexcept>

namespace evenclose {
namespace {

// Stiff enough to bend no more, soft enough not to spoil the numbers.
constexpr double kRigid = 1000;
constexpr double kRigidPlate = 10; // thickness: its bending stiffness is 1000 times
// So many groups of members are tried, those that bend most by strain energy first.
constexpr std::size_t kTried = 4;
constexpr double kStarved = 0.5; // of the mean pressure

std::vector<DeckPatch> deck_of(const StoodFrame& stood) {
    std::vector<DeckPatch> deck;
    for (const FrameContact& contact : stood.model.contacts) {
        if (contact.on == FrameContact::On::deck) {
            const Vec2 at{contact.at_mm};
            deck.push_back({at, contact.area_mm2, stood.model.head.rise_mm(stood.state, at),
                            stood.model.platen.rise_mm(stood.state, at),
                            std::max(0.0, -stood.state.spring_forces[contact.spring][0] / contact.area_mm2)});
        }
    }
    return deck;
}

template <class Of> double spread_of(const std::vector<DeckPatch>& deck, Of of) {
    double low = std::numeric_limits<double>::infinity();
    double high = -low;
    for (const DeckPatch& patch : deck) {
        low = std::min(low, of(patch));
        high = std::max(high, of(patch));
    }
    return deck.empty() ? 0 : high - low;
}

double opening_spread(const std::vector<DeckPatch>& deck) {
    return spread_of(deck, [](const DeckPatch& patch) { return patch.opens_mm(); });
}

/// Least-squares slope of what `of` tells over the deck.
template <class Of> Slope slope_of(const std::vector<DeckPatch>& deck, Of of) {
    Eigen::Matrix3d sum = Eigen::Matrix3d::Zero();
    Eigen::Vector3d right = Eigen::Vector3d::Zero();
    for (const DeckPatch& patch : deck) {
        const Eigen::Vector3d place{1, patch.at_mm.x, patch.at_mm.y};
        sum += place * place.transpose();
        right += of(patch) * place;
    }
    const Eigen::Vector3d plane = sum.ldlt().solve(right);
    return {plane(1), plane(2)};
}

/// Over the deck: at its middle beyond the mean of its two ends.
double middle_of(const std::vector<DeckPatch>& deck, const DeckPlan& plan) {
    double middle = 0;
    double ends = 0;
    double middle_weight = 0;
    double end_weight = 0;
    for (const DeckPatch& patch : deck) {
        const double along = std::abs(glm::dot(patch.at_mm - plan.centre_mm, plan.length_axis)) / plan.size_mm.x;
        if (along < 0.05) {
            middle += patch.opens_mm();
            middle_weight += 1;
        } else if (along > 0.45) {
            ends += patch.opens_mm();
            end_weight += 1;
        }
    }
    return middle_weight > 0 && end_weight > 0 ? middle / middle_weight - ends / end_weight : 0;
}

struct Trial {
    const Setup& setup;
    const Joints& joints;
    const std::vector<JackForce>& forces;
    const std::vector<bool>& open;

    [[nodiscard]] StoodFrame with(const Stiffening& stiffening) const {
        return stand(press_frame(setup, joints, forces, stiffening), open);
    }
};

/// Members alike and alike placed, as builders make them: same section, material and length, mirrored about the middle.
std::vector<std::vector<std::size_t>> groups_of(const Press& press, const PressFrame& model) {
    std::map<std::string, std::vector<std::size_t>> groups;
    for (std::size_t i = 0; i < press.members.size(); ++i) {
        const FrameMember& part = model.members[i];
        if (part.nodes.empty()) {
            continue;
        }
        const Member& m = press.members[i];
        const Vec3 along = glm::abs(m.b_mm - m.a_mm);
        const Vec3 middle = 0.5 * (m.a_mm + m.b_mm);
        groups[fmt::format("{} {:.3f} {:.1f} {:.1f} {:.1f} {:.0f} {:.0f} {:.0f}", m.material, part.whole.EA_N, along.x,
                           along.y, along.z, std::abs(middle.x), std::abs(middle.y), middle.z)]
            .push_back(i);
    }
    std::vector<std::vector<std::size_t>> list;
    for (auto& [key, members] : groups) {
        list.push_back(std::move(members));
    }
    std::sort(list.begin(), list.end());
    return list;
}

double strain_energy(const StoodFrame& stood, const std::vector<std::size_t>& members) {
    double energy = 0;
    for (const std::size_t i : members) {
        const FrameMember& part = stood.model.members[i];
        for (std::size_t k = 0; k < part.beams.size(); ++k) {
            const BeamStiffness& beam = stood.model.frame.beams[part.beams[k]].stiffness;
            const double length = part.at_mm[k + 1] - part.at_mm[k];
            const BeamForces f = forces_at(stood.model.frame, stood.state, part.beams[k], 0.5 * length);
            energy += 0.5 * length *
                      (f.My * f.My / beam.EIy_Nmm2 + f.Mz * f.Mz / beam.EIz_Nmm2 + f.N * f.N / beam.EA_N +
                       f.Vy * f.Vy / beam.GAy_N + f.Vz * f.Vz / beam.GAz_N);
        }
    }
    return energy;
}

/// One thing that a shop might do, and the stiffening that stands for it.
struct Change {
    std::vector<std::string> parts;
    std::string what;
    Stiffening rigid, stiffer;
};

std::vector<Change> changes_of(const Press& press, const StoodFrame& stood) {
    std::vector<Change> changes;
    Stiffening none;
    none.member.assign(press.members.size(), 1.0);
    const auto plate = [&](const char* name, double Stiffening::*thickness, double t) {
        Change change{{name},
                      fmt::format("a {} of {:.4g} mm in place of {:.4g} mm", name, std::ceil(1.3 * t / 5) * 5, t),
                      none,
                      none};
        change.rigid.*thickness = kRigidPlate;
        change.stiffer.*thickness = std::ceil(1.3 * t / 5) * 5 / t; // the next thickness sold, to 5 mm
        changes.push_back(std::move(change));
    };
    plate("head", &Stiffening::head_thickness, press.head.thickness_mm);
    plate("platen", &Stiffening::platen_thickness, press.platen.thickness_mm);
    std::vector<std::vector<std::size_t>> groups = groups_of(press, stood.model);
    std::stable_sort(groups.begin(), groups.end(),
                     [&](const auto& a, const auto& b) { return strain_energy(stood, a) > strain_energy(stood, b); });
    groups.resize(std::min(groups.size(), kTried));
    for (const std::vector<std::size_t>& group : groups) {
        Change change{{}, {}, none, none};
        for (const std::size_t i : group) {
            change.parts.push_back(press.members[i].name);
            change.rigid.member[i] = kRigid;
            change.stiffer.member[i] = 2;
        }
        change.what = fmt::format("a second {} beside {}", words_of(press.members[group.front()].section),
                                  group.size() > 2 ? "each of " + listed(change.parts) : listed(change.parts));
        changes.push_back(std::move(change));
    }
    return changes;
}

void try_changes(FrameMeasure& measure, const Trial& trial, const Press& press, const DeckPlan& plan) {
    const std::vector<Change> changes = changes_of(press, measure.stood);
    constexpr std::size_t kTold = 2;
    std::vector<std::size_t> order(changes.size());
    std::iota(order.begin(), order.end(), 0U);
    for (const Change& change : changes) {
        const double spread = opening_spread(deck_of(trial.with(change.rigid)));
        measure.costs.push_back({change.parts, measure.spread_mm - spread});
    }
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return measure.costs[a].mm > measure.costs[b].mm; });
    for (std::size_t i = 0; i < std::min(kTold, order.size()) && measure.costs[order[i]].mm > 0; ++i) {
        const Change& change = changes[order[i]];
        const std::vector<DeckPatch> deck = deck_of(trial.with(change.stiffer));
        measure.stiffer.push_back({change.what, measure.spread_mm, opening_spread(deck), middle_of(deck, plan)});
    }
    std::stable_sort(measure.costs.begin(), measure.costs.end(),
                     [](const BendCost& a, const BendCost& b) { return a.mm > b.mm; });
    if (measure.worst() != nullptr && measure.worst()->use > 1) {
        const PartUse& worst = *measure.worst();
        for (const Change& change : changes_of(press, measure.stood)) {
            if (std::find(change.parts.begin(), change.parts.end(), worst.part) == change.parts.end()) {
                continue;
            }
            const StoodFrame tried = trial.with(change.stiffer);
            double after = 0;
            for (PartUse& use : uses_of(press, measure.joints, tried)) {
                // Two members side by side share the force of the doubled one: each is stressed half as much.
                const bool doubled =
                    use.part != "head" && use.part != "platen" &&
                    std::find(change.parts.begin(), change.parts.end(), use.part) != change.parts.end();
                if (use.part == worst.part) {
                    after = use.use * (doubled ? 0.5 : 1.0);
                }
            }
            measure.stronger = Remedy{change.what, worst.use, after};
        }
    }
}

DisplacementField field(const FrameMeasure& measure, const Setup& setup, bool head) {
    const Opening& opening = setup.openings.front();
    const Vec2 spot = setup.press->platen.centre_mm + opening.at_mm;
    const double c = std::cos(opening.turn_rad);
    const double s = std::sin(opening.turn_rad);
    double mean = 0;
    double area = 0;
    for (const DeckPatch& patch : measure.deck) {
        mean += patch.area_mm2 * (head ? patch.head_mm : patch.platen_mm);
        area += patch.area_mm2;
    }
    mean /= std::max(area, 1e-9);
    return [&measure, spot, c, s, mean, head](const Vec3& at) {
        const Vec2 world = spot + Vec2{c * at.x - s * at.y, s * at.x + c * at.y};
        const PlateGrid& grid = head ? measure.stood.model.head : measure.stood.model.platen;
        return Vec3{0, 0, grid.rise_mm(measure.stood.state, world) - mean};
    };
}

std::vector<JackForce> jack_forces(const PressureMeasure& pressure, double on_deck_N) {
    std::vector<JackForce> forces;
    for (std::size_t i = 0; i < pressure.jacks.size(); ++i) {
        forces.push_back({i, pressure.jacks[i].share * (on_deck_N + pressure.weights.all_N())});
    }
    return forces;
}

/// The force at which the first part is at its limit, by trying: what only pushes makes it no straight line, and the
/// weights stay. The others' by proportion from there, and what the jacks can give.
void find_limits(FrameMeasure& measure, const Setup& setup, const PressureMeasure& pressure) {
    constexpr int kMostTries = 4;
    constexpr double kNear = 0.002;
    const PartUse* worst = measure.worst();
    if (worst == nullptr || !(worst->use > 0)) {
        return;
    }
    double force = measure.force_N;
    std::vector<PartUse> uses = measure.uses;
    double use = worst->use;
    for (int i = 0; i < kMostTries && std::abs(use - 1) > kNear; ++i) {
        const double tried = force / use;
        const StoodFrame stood =
            stand(press_frame(setup, measure.joints, jack_forces(pressure, tried), {}), measure.stood.open);
        std::vector<PartUse> then = uses_of(*setup.press, measure.joints, stood);
        const auto first = std::find_if(then.begin(), then.end(), [](const PartUse& part) { return part.known; });
        if (!stood.settled || !stood.mechanisms.empty() || !stood.let_go.empty() || first == then.end() ||
            !(first->use > 0)) {
            break; // in proportion, from what stood
        }
        force = tried;
        use = first->use;
        uses = std::move(then);
    }
    for (const PartUse& part : uses) {
        if (part.known && part.use > 0) {
            measure.limits.push_back({part.part, part.by, force / part.use});
        }
    }
    measure.breaks_at_N = measure.limits.front().force_N;
    measure.limits.push_back(
        {pressure.limit.by, pressure.limit.drive ? "its limit" : "its rated load", pressure.available_N});
    std::stable_sort(measure.limits.begin(), measure.limits.end(),
                     [](const ReachedLimit& a, const ReachedLimit& b) { return a.force_N < b.force_N; });
}

void compute(FrameMeasure& measure, const Setup& setup, const PressureMeasure& pressure,
             const std::vector<JackForce>& forces) {
    const Press& press = *setup.press;
    const Trial trial{setup, measure.joints, forces, measure.stood.open};
    measure.stood.model = press_frame(setup, measure.joints, forces, {});
    const PressFrame& model = measure.stood.model;
    for (std::size_t i = 0; i < press.members.size(); ++i) {
        for (const FrameMemberPart& part : model.members[i].parts) {
            if (!part.known) {
                measure.stand_ins.push_back({press.members[i].name, part.word, part.material.name});
            }
        }
    }
    if (!model.head.material_known) {
        measure.stand_ins.push_back({"head", press.head.material, model.head.material.name});
    }
    if (!model.platen.material_known) {
        measure.stand_ins.push_back({"platen", press.platen.material, model.platen.material.name});
    }
    if (!model.head_held) {
        measure.not_computed = "nothing drawn holds the head and stands on the floor";
        return;
    }
    if (!model.foot_on_air.empty()) {
        measure.not_computed = fmt::format("nothing drawn stands under {}", listed(model.foot_on_air));
        return;
    }
    measure.stood = stand(std::move(measure.stood.model));
    if (measure.mechanism()) {
        measure.not_computed = "the frame is a mechanism: it does not stand under the closing force";
        return;
    }
    measure.uses = uses_of(press, measure.joints, measure.stood);
    measure.deck = deck_of(measure.stood);
    measure.spread_mm = opening_spread(measure.deck);
    measure.middle_mm = middle_of(measure.deck, pressure.deck);
    measure.tilt = slope_of(measure.deck, [](const DeckPatch& patch) { return patch.opens_mm(); });
    measure.head_sag_mm = spread_of(measure.deck, [](const DeckPatch& patch) { return patch.head_mm; });
    measure.platen_sag_mm = spread_of(measure.deck, [](const DeckPatch& patch) { return patch.platen_mm; });
    measure.least_MPa = std::numeric_limits<double>::infinity();
    double area = 0;
    double starved = 0;
    for (const DeckPatch& patch : measure.deck) {
        measure.least_MPa = std::min(measure.least_MPa, patch.pressure_MPa);
        measure.greatest_MPa = std::max(measure.greatest_MPa, patch.pressure_MPa);
        area += patch.area_mm2;
        starved += patch.pressure_MPa < kStarved * pressure.mean_MPa ? patch.area_mm2 : 0;
    }
    measure.starved_share = starved / area;
    measure.hints = hints_of(press, measure.joints, measure.stood);
    find_limits(measure, setup, pressure);
    try_changes(measure, trial, press, pressure.deck);
}

} // namespace

Vec2 middle_of_pressure_mm(const std::vector<DeckPatch>& deck) {
    Vec2 sum{0.0};
    double force = 0;
    for (const DeckPatch& patch : deck) {
        sum += patch.area_mm2 * patch.pressure_MPa * patch.at_mm;
        force += patch.area_mm2 * patch.pressure_MPa;
    }
    return sum / std::max(force, 1e-9);
}

const PartUse* FrameMeasure::worst() const {
    const auto known = std::find_if(uses.begin(), uses.end(), [](const PartUse& use) { return use.known; });
    return known == uses.end() ? nullptr : &*known;
}

FrameMeasure measure_frame(const Setup& setup, const Assembly& assembly, const PressureMeasure& pressure) {
    FrameMeasure measure;
    measure.joints = joints_of(*setup.press);
    measure.force_N = pressure.force_N;
    if (assembly.shut_height_mm <= 0 || !(pressure.area_mm2 > 0) || !(pressure.force_N > 0)) {
        measure.not_computed = "there is no deck that a force could be brought on";
        return measure;
    }
    measure.jacks = jack_forces(pressure, pressure.force_N);
    try {
        compute(measure, setup, pressure, measure.jacks);
    } catch (const std::invalid_argument& fault) {
        measure.not_computed = fault.what();
    }
    return measure;
}

DisplacementField lower_bent(const FrameMeasure& measure, const Setup& setup) { return field(measure, setup, false); }
DisplacementField upper_bent(const FrameMeasure& measure, const Setup& setup) { return field(measure, setup, true); }

} // namespace evenclose
