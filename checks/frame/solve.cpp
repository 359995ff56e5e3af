#include "checks/frame/solve.hpp"

#include "checks/frame/beam_element.hpp"
#include "checks/frame/plate_element.hpp"

#include <Eigen/Sparse>
#include <Eigen/SparseCholesky>

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <stdexcept>

namespace evenclose {
namespace {

using Sparse = Eigen::SparseMatrix<double>;
using Vector = Eigen::VectorXd;
using Triplets = std::vector<Eigen::Triplet<double>>;
using Factor = Eigen::SimplicialLDLT<Sparse>;

// After scaling by the diagonal a sound frame's least pivot is far above this (a chain of 300 elements has 1e-10), a
// mechanism's is rounding: 1e-16 times the number of entries summed.
constexpr double kNoStiffness = 1e-12;
// Nodes that move less than this share of the one that moves most are left out of a mechanism's names.
constexpr double kMovesAlong = 0.05;
// Holding a mechanism takes force if it takes more than this share of the greatest load.
constexpr double kLoadedShare = 1e-7;

Eigen::Index dof(std::size_t node, int direction) { return static_cast<Eigen::Index>(6 * node) + direction; }

template <class Matrix> void scatter(Triplets& triplets, const Matrix& k, const std::vector<std::size_t>& nodes) {
    for (int r = 0; r < k.rows(); ++r) {
        for (int c = 0; c < k.cols(); ++c) {
            if (k(r, c) != 0) {
                triplets.emplace_back(dof(nodes[static_cast<std::size_t>(r / 6)], r % 6),
                                      dof(nodes[static_cast<std::size_t>(c / 6)], c % 6), k(r, c));
            }
        }
    }
}

/// Own relative motion of a spring's two ends from the motions of its nodes.
Eigen::Matrix<double, 6, 12> spring_motion(const FrameSpring& spring) {
    Eigen::Matrix<double, 6, 6> turn = Eigen::Matrix<double, 6, 6>::Zero();
    for (int r = 0; r < 3; ++r) {
        for (int c = 0; c < 3; ++c) {
            turn(r, c) = turn(3 + r, 3 + c) = spring.axes[r][c];
        }
    }
    Eigen::Matrix<double, 6, 12> b;
    b.leftCols<6>() = -turn * arm_matrix(spring.arm_a_mm);
    b.rightCols<6>() = turn * arm_matrix(spring.arm_b_mm);
    return b;
}

Eigen::Matrix<double, 6, 1> stiffness_of(const FrameSpring& spring) {
    return Eigen::Map<const Eigen::Matrix<double, 6, 1>>(spring.stiffness.data());
}

/// Everything that does not change with the load case.
struct System {
    Sparse stiffness; // all directions of all nodes
    Vector distributed, extension;
    std::vector<BeamElement> beams;

    explicit System(const SpaceFrame& frame) {
        const auto size = static_cast<Eigen::Index>(6 * frame.nodes.size());
        distributed = Vector::Zero(size);
        extension = Vector::Zero(size);
        Triplets triplets;
        for (std::size_t i = 0; i < frame.beams.size(); ++i) {
            const FrameBeam& beam = frame.beams[i];
            const BeamStiffness& k = beam.stiffness;
            if (!(k.EA_N > 0 && k.EIy_Nmm2 > 0 && k.EIz_Nmm2 > 0 && k.GJ_Nmm2 > 0 && k.GAy_N > 0 && k.GAz_N > 0)) {
                throw std::invalid_argument(fmt::format("frame: beam {} has a stiffness that is not above 0", i));
            }
            beams.push_back(element_of(frame, beam));
            const BeamElement& element = beams.back();
            scatter(triplets, (element.to_own.transpose() * element.stiffness * element.to_own).eval(),
                    {beam.a, beam.b});
            const Vector12 load = element.to_own.transpose() * element.load;
            distributed.segment<6>(dof(beam.a, 0)) += load.head<6>();
            distributed.segment<6>(dof(beam.b, 0)) += load.tail<6>();
        }
        for (const FrameSpring& spring : frame.springs) {
            const Eigen::Matrix<double, 6, 12> b = spring_motion(spring);
            const Eigen::Matrix<double, 6, 1> k = stiffness_of(spring);
            const Matrix12 whole = b.transpose() * k.asDiagonal() * b;
            const Vector12 load = b.transpose().col(0) * (k(0) * spring.extension_mm);
            extension.segment<6>(dof(spring.a, 0)) += load.head<6>();
            if (spring.b == FrameSpring::kGround) {
                scatter(triplets, whole.topLeftCorner<6, 6>().eval(), {spring.a});
            } else {
                scatter(triplets, whole, {spring.a, spring.b});
                extension.segment<6>(dof(spring.b, 0)) += load.tail<6>();
            }
        }
        for (const FramePlate& plate : frame.plates) {
            const PlateElement element = element_of(frame, plate);
            scatter(triplets, element.stiffness, {plate.nodes.begin(), plate.nodes.end()});
            for (int i = 0; i < 4; ++i) {
                distributed.segment<6>(dof(plate.nodes[static_cast<std::size_t>(i)], 0)) +=
                    element.load.segment<6>(6 * i);
            }
        }
        stiffness.resize(size, size);
        stiffness.setFromTriplets(triplets.begin(), triplets.end());
    }
};

/// The directions that are free to move, their scaled stiffness and its factor.
class Reduced {
public:
    Reduced(const Sparse& stiffness, const std::vector<bool>& held) : place_(held.size(), -1) {
        for (std::size_t i = 0; i < held.size(); ++i) {
            if (!held[i]) {
                place_[i] = static_cast<Eigen::Index>(free_.size());
                free_.push_back(static_cast<Eigen::Index>(i));
            }
        }
        const auto n = static_cast<Eigen::Index>(free_.size());
        scale_ = Vector::Ones(n);
        for (Eigen::Index i = 0; i < n; ++i) {
            const double k = stiffness.coeff(free_[static_cast<std::size_t>(i)], free_[static_cast<std::size_t>(i)]);
            scale_(i) = k > 0 ? 1 / std::sqrt(k) : 1.0;
        }
        Triplets triplets;
        for (Eigen::Index column = 0; column < stiffness.outerSize(); ++column) {
            for (Sparse::InnerIterator it(stiffness, column); it; ++it) {
                const Eigen::Index r = place_[static_cast<std::size_t>(it.row())];
                const Eigen::Index c = place_[static_cast<std::size_t>(column)];
                if (r >= 0 && c >= 0) {
                    triplets.emplace_back(r, c, scale_(r) * scale_(c) * it.value());
                }
            }
        }
        scaled_.resize(n, n);
        scaled_.setFromTriplets(triplets.begin(), triplets.end());
        if (n > 0) {
            factor_.compute(scaled_);
            if (factor_.info() != Eigen::Success) { // a pivot of exactly 0: lift it by less than rounding
                factor_.setShift(1e-15);
                factor_.compute(scaled_);
            }
        }
    }

    [[nodiscard]] Vector solve(const Vector& load) const {
        Vector answer = Vector::Zero(load.size());
        if (free_.empty()) {
            return answer;
        }
        Vector right(static_cast<Eigen::Index>(free_.size()));
        for (Eigen::Index i = 0; i < right.size(); ++i) {
            right(i) = scale_(i) * load(free_[static_cast<std::size_t>(i)]);
        }
        Vector x = factor_.solve(right);
        x += factor_.solve(right - scaled_ * x);
        for (Eigen::Index i = 0; i < right.size(); ++i) {
            answer(free_[static_cast<std::size_t>(i)]) = scale_(i) * x(i);
        }
        return answer;
    }

    struct Loose {
        Eigen::Index direction = 0; // the one to hold, among all directions
        Vector motion;              // of all directions
    };
    /// One a pivot without stiffness. For a pivot d_p of L D L^T, x = L^-T e_p has K x = d_p L e_p, so x strains nothing.
    [[nodiscard]] std::vector<Loose> loose() const {
        std::vector<Loose> result;
        if (free_.empty()) {
            return result;
        }
        const Vector pivots = factor_.vectorD();
        for (Eigen::Index p = 0; p < pivots.size(); ++p) {
            if (std::abs(pivots(p)) > kNoStiffness) {
                continue;
            }
            Vector unit = Vector::Zero(pivots.size());
            unit(p) = 1;
            factor_.matrixU().solveInPlace(unit);
            const Vector x = factor_.permutationPinv() * unit;
            Vector unit_place = Vector::Zero(pivots.size());
            unit_place(p) = 1;
            const Vector at = factor_.permutationPinv() * unit_place;
            Eigen::Index which = 0;
            at.cwiseAbs().maxCoeff(&which);
            Loose loose;
            loose.direction = free_[static_cast<std::size_t>(which)];
            loose.motion = Vector::Zero(static_cast<Eigen::Index>(place_.size()));
            for (Eigen::Index i = 0; i < x.size(); ++i) {
                loose.motion(free_[static_cast<std::size_t>(i)]) = scale_(i) * x(i);
            }
            result.push_back(std::move(loose));
        }
        return result;
    }

private:
    std::vector<Eigen::Index> free_, place_;
    Vector scale_;
    Sparse scaled_;
    Factor factor_;
};

Motion motion_at(const Vector& all, std::size_t node) {
    const Eigen::Index i = dof(node, 0);
    return {{all(i), all(i + 1), all(i + 2)}, {all(i + 3), all(i + 4), all(i + 5)}};
}

Mechanism named(const Vector& motion, Eigen::Index held, std::size_t nodes) {
    Mechanism mechanism;
    mechanism.held_node = static_cast<std::size_t>(held) / 6;
    mechanism.held_direction = static_cast<int>(held % 6);
    std::vector<double> moves(nodes);
    std::vector<double> turns(nodes);
    double most_move = 0;
    double most_turn = 0;
    for (std::size_t i = 0; i < nodes; ++i) {
        const Motion m = motion_at(motion, i);
        moves[i] = std::hypot(m.move_mm.x, m.move_mm.y, m.move_mm.z);
        turns[i] = std::hypot(m.turn_rad.x, m.turn_rad.y, m.turn_rad.z);
        most_move = std::max(most_move, moves[i]);
        most_turn = std::max(most_turn, turns[i]);
    }
    // A bar that spins about itself moves nothing: then turns tell.
    const bool spins = most_move < 1e-6 * most_turn;
    const std::vector<double>& amount = spins ? turns : moves;
    const double most = spins ? most_turn : most_move;
    for (std::size_t i = 0; i < nodes; ++i) {
        if (amount[i] > kMovesAlong * most) {
            mechanism.nodes.push_back(i);
        }
    }
    std::stable_sort(mechanism.nodes.begin(), mechanism.nodes.end(),
                     [&](std::size_t a, std::size_t b) { return amount[a] > amount[b]; });
    mechanism.motion = motion_at(motion, mechanism.nodes.front());
    mechanism.motion.move_mm /= most;
    mechanism.motion.turn_rad /= most;
    return mechanism;
}

Vector load_of(const SpaceFrame& frame, const System& system, const LoadCase& load_case) {
    Vector load = load_case.distributed * system.distributed + load_case.extension * system.extension;
    for (const NodeAction& at : load_case.actions) {
        if (at.node >= frame.nodes.size()) {
            throw std::invalid_argument(fmt::format("frame: a load acts on node {}, which is not there", at.node));
        }
        for (int i = 0; i < 3; ++i) {
            load(dof(at.node, i)) += at.action.force_N[i];
            load(dof(at.node, 3 + i)) += at.action.moment_Nmm[i];
        }
    }
    if (!load.allFinite()) {
        throw std::invalid_argument("frame: a load is not finite");
    }
    return load;
}

template <int Size> Eigen::Matrix<double, Size, 1> gathered(const Vector& all, const std::vector<std::size_t>& nodes) {
    Eigen::Matrix<double, Size, 1> result;
    for (std::size_t i = 0; i < nodes.size(); ++i) {
        result.template segment<6>(6 * static_cast<Eigen::Index>(i)) = all.segment<6>(dof(nodes[i], 0));
    }
    return result;
}

FrameState state_of(const SpaceFrame& frame, const System& system, const LoadCase& load_case, const Vector& load,
                    const Vector& motion) {
    FrameState state;
    const Vector unbalanced = system.stiffness * motion - load;
    for (std::size_t i = 0; i < frame.nodes.size(); ++i) {
        state.motions.push_back(motion_at(motion, i));
        Motion reaction = motion_at(unbalanced, i);
        for (int d = 0; d < 3; ++d) {
            reaction.move_mm[d] *= frame.nodes[i].held[static_cast<std::size_t>(d)] ? 1 : 0;
            reaction.turn_rad[d] *= frame.nodes[i].held[static_cast<std::size_t>(3 + d)] ? 1 : 0;
        }
        state.reactions.push_back({reaction.move_mm, reaction.turn_rad});
    }
    for (std::size_t i = 0; i < frame.beams.size(); ++i) {
        const BeamElement& element = system.beams[i];
        const Vector12 own = element.to_own * gathered<12>(motion, {frame.beams[i].a, frame.beams[i].b});
        const Vector12 force = element.stiffness * own - load_case.distributed * element.load;
        std::array<double, 12> forces{};
        std::copy_n(force.data(), 12, forces.begin());
        state.beam_forces.push_back(forces);
    }
    for (const FrameSpring& spring : frame.springs) {
        Vector12 ends = Vector12::Zero();
        ends.head<6>() = motion.segment<6>(dof(spring.a, 0));
        if (spring.b != FrameSpring::kGround) {
            ends.tail<6>() = motion.segment<6>(dof(spring.b, 0));
        }
        Eigen::Matrix<double, 6, 1> grown = spring_motion(spring) * ends;
        grown(0) -= load_case.extension * spring.extension_mm;
        const Eigen::Matrix<double, 6, 1> force = stiffness_of(spring).cwiseProduct(grown);
        std::array<double, 6> forces{};
        std::copy_n(force.data(), 6, forces.begin());
        state.spring_forces.push_back(forces);
    }
    for (const FramePlate& plate : frame.plates) {
        state.plate_forces.push_back(
            forces_of(frame, plate, gathered<24>(motion, {plate.nodes.begin(), plate.nodes.end()})));
    }
    return state;
}

} // namespace

FrameSolution solve(const SpaceFrame& frame, const std::vector<LoadCase>& cases) {
    const System system(frame);
    std::vector<bool> held;
    for (const FrameNode& node : frame.nodes) {
        held.insert(held.end(), node.held.begin(), node.held.end());
    }
    std::vector<Vector> loads;
    double greatest_force = 0;
    double greatest_moment = 0;
    for (const LoadCase& load_case : cases) {
        loads.push_back(load_of(frame, system, load_case));
        for (Eigen::Index i = 0; i < loads.back().size(); ++i) {
            double& greatest = i % 6 < 3 ? greatest_force : greatest_moment;
            greatest = std::max(greatest, std::abs(loads.back()(i)));
        }
    }
    FrameSolution solution;
    std::vector<Eigen::Index> held_by_us;
    // A direction in which nothing at all is stiff (the turn of a node with only hinges at it) is no mechanism of the
    // frame unless something turns it there.
    for (std::size_t i = 0; i < held.size(); ++i) {
        const auto at = static_cast<Eigen::Index>(i);
        if (!held[i] && system.stiffness.coeff(at, at) <= 0) {
            held[i] = true;
            const bool loaded = std::any_of(loads.begin(), loads.end(), [&](const Vector& f) { return f(at) != 0; });
            if (loaded) {
                Vector motion = Vector::Zero(static_cast<Eigen::Index>(held.size()));
                motion(at) = 1;
                solution.mechanisms.push_back(named(motion, at, frame.nodes.size()));
                solution.mechanisms.back().loaded = true;
                held_by_us.push_back(at);
            }
        }
    }
    auto reduced = std::make_unique<Reduced>(system.stiffness, held);
    for (std::vector<Reduced::Loose> loose = reduced->loose(); !loose.empty(); loose = reduced->loose()) {
        for (const Reduced::Loose& part : loose) {
            solution.mechanisms.push_back(named(part.motion, part.direction, frame.nodes.size()));
            held_by_us.push_back(part.direction);
            held[static_cast<std::size_t>(part.direction)] = true;
        }
        reduced = std::make_unique<Reduced>(system.stiffness, held);
    }
    for (std::size_t c = 0; c < cases.size(); ++c) {
        const Vector motion = reduced->solve(loads[c]);
        const Vector unbalanced = system.stiffness * motion - loads[c];
        for (std::size_t m = 0; m < solution.mechanisms.size(); ++m) {
            const double greatest =
                std::max(solution.mechanisms[m].held_direction < 3 ? greatest_force : greatest_moment, 1e-9);
            if (std::abs(unbalanced(held_by_us[m])) > kLoadedShare * greatest) {
                solution.mechanisms[m].loaded = true;
            }
        }
        solution.states.push_back(state_of(frame, system, cases[c], loads[c], motion));
    }
    return solution;
}

BeamForces forces_at(const SpaceFrame& frame, const FrameState& state, std::size_t beam, double x_mm,
                     double distributed) {
    const std::array<double, 12>& end = state.beam_forces[beam];
    const Vec3 q =
        distributed * (glm::transpose(axes_of(frame, frame.beams[beam]).axes) * frame.beams[beam].load_N_per_mm);
    // Equilibrium of the piece from a to x: what acts on its far face balances the end and the load.
    BeamForces f;
    f.N = -end[0] - q.x * x_mm;
    f.Vy = -end[1] - q.y * x_mm;
    f.Vz = -end[2] - q.z * x_mm;
    f.Mx = -end[3];
    f.My = -end[4] - end[2] * x_mm - 0.5 * q.z * x_mm * x_mm;
    f.Mz = -end[5] + end[1] * x_mm + 0.5 * q.y * x_mm * x_mm;
    return f;
}

} // namespace evenclose
