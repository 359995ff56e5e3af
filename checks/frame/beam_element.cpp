#include "checks/frame/beam_element.hpp"

#include <Eigen/LU>

#include <glm/geometric.hpp>

#include <cmath>
#include <stdexcept>
#include <vector>

namespace evenclose {
namespace {

/// Bending in one plane: deflection d and turn t at both ends, `sign` +1 where the turn is d' (x-y), -1 where it is
/// -d' (x-z).
void add_bending(Matrix12& k, int d, int t, double sign, double EI, double GA, double L) {
    const double phi = std::isinf(GA) ? 0.0 : 12 * EI / (GA * L * L);
    const double a = EI / ((1 + phi) * L * L * L);
    const int i[4] = {d, t, d + 6, t + 6};
    const double s[4] = {1, sign, 1, sign};
    const double m[4][4] = {{12, 6 * L, -12, 6 * L},
                            {6 * L, (4 + phi) * L * L, -6 * L, (2 - phi) * L * L},
                            {-12, -6 * L, 12, -6 * L},
                            {6 * L, (2 - phi) * L * L, -6 * L, (4 + phi) * L * L}};
    for (int r = 0; r < 4; ++r) {
        for (int c = 0; c < 4; ++c) {
            k(i[r], i[c]) += a * s[r] * s[c] * m[r][c];
        }
    }
}

Matrix12 whole_stiffness(const BeamStiffness& beam, double L) {
    Matrix12 k = Matrix12::Zero();
    const auto add_bar = [&](int i, double stiffness) {
        k(i, i) += stiffness;
        k(i + 6, i + 6) += stiffness;
        k(i, i + 6) -= stiffness;
        k(i + 6, i) -= stiffness;
    };
    add_bar(0, beam.EA_N / L);
    add_bar(3, beam.GJ_Nmm2 / L);
    add_bending(k, 1, 5, 1, beam.EIz_Nmm2, beam.GAy_N, L);
    add_bending(k, 2, 4, -1, beam.EIy_Nmm2, beam.GAz_N, L);
    return k;
}

/// Uniform load, both ends clamped: shear deformation does not change these, since the load is symmetrical.
Vector12 uniform_load(const Vec3& own_N_per_mm, double L) {
    Vector12 f = Vector12::Zero();
    for (int i = 0; i < 3; ++i) {
        f(i) = f(i + 6) = 0.5 * own_N_per_mm[i] * L;
    }
    f(5) = own_N_per_mm.y * L * L / 12;
    f(11) = -f(5);
    f(4) = -own_N_per_mm.z * L * L / 12;
    f(10) = -f(4);
    return f;
}

void condense(const std::array<bool, 12>& released, Matrix12& k, Vector12& f) {
    std::vector<int> out;
    for (int i = 0; i < 12; ++i) {
        if (released[static_cast<std::size_t>(i)]) {
            out.push_back(i);
        }
    }
    if (out.empty()) {
        return;
    }
    const auto n = static_cast<Eigen::Index>(out.size());
    Eigen::MatrixXd inner(n, n);
    Eigen::MatrixXd across(12, n);
    Eigen::VectorXd load(n);
    for (Eigen::Index c = 0; c < n; ++c) {
        const int ic = out[static_cast<std::size_t>(c)];
        across.col(c) = k.col(ic);
        load(c) = f(ic);
        for (Eigen::Index r = 0; r < n; ++r) {
            inner(r, c) = k(out[static_cast<std::size_t>(r)], ic);
        }
    }
    // Scaled, since moves and turns differ by mm^2; rank-revealing, since released at both ends it may spin freely.
    const Eigen::VectorXd scale = inner.diagonal().cwiseMax(1e-300).cwiseSqrt().cwiseInverse();
    Eigen::FullPivLU<Eigen::MatrixXd> lu(scale.asDiagonal() * inner * scale.asDiagonal());
    lu.setThreshold(1e-12);
    const Eigen::MatrixXd answer = scale.asDiagonal() * lu.solve(scale.asDiagonal() * across.transpose());
    const Eigen::VectorXd moved = scale.asDiagonal() * lu.solve(scale.asDiagonal() * load);
    f -= across * moved;
    k -= across * answer;
    for (const int i : out) { // zero but for rounding
        k.row(i).setZero();
        k.col(i).setZero();
        f(i) = 0;
    }
    k = (0.5 * (k + k.transpose())).eval();
}

} // namespace

Eigen::Matrix<double, 6, 6> arm_matrix(const Vec3& arm_mm) {
    Eigen::Matrix<double, 6, 6> m = Eigen::Matrix<double, 6, 6>::Identity();
    // move at the end = move + turn x arm
    m(0, 4) = arm_mm.z;
    m(0, 5) = -arm_mm.y;
    m(1, 3) = -arm_mm.z;
    m(1, 5) = arm_mm.x;
    m(2, 3) = arm_mm.y;
    m(2, 4) = -arm_mm.x;
    return m;
}

BeamAxes axes_of(const SpaceFrame& frame, const FrameBeam& beam) {
    const Vec3 from = frame.nodes[beam.a].at_mm + beam.arm_a_mm;
    const Vec3 to = frame.nodes[beam.b].at_mm + beam.arm_b_mm;
    BeamAxes result;
    result.length_mm = glm::distance(from, to);
    if (!(result.length_mm > 0)) {
        throw std::invalid_argument("frame: a beam has no length");
    }
    const Vec3 x = (to - from) / result.length_mm;
    const Vec3 across = beam.y_axis - glm::dot(beam.y_axis, x) * x;
    if (!(glm::length(across) > 1e-9 * glm::length(beam.y_axis))) {
        throw std::invalid_argument("frame: a beam's y axis lies along it");
    }
    const Vec3 y = glm::normalize(across);
    result.axes = Mat3{x, y, glm::cross(x, y)};
    return result;
}

BeamElement element_of(const SpaceFrame& frame, const FrameBeam& beam) {
    const BeamAxes axes = axes_of(frame, beam);
    BeamElement element;
    element.stiffness = whole_stiffness(beam.stiffness, axes.length_mm);
    element.load = uniform_load(glm::transpose(axes.axes) * beam.load_N_per_mm, axes.length_mm);
    condense(beam.released, element.stiffness, element.load);
    Eigen::Matrix3d turn;
    for (int r = 0; r < 3; ++r) {
        for (int c = 0; c < 3; ++c) {
            turn(r, c) = axes.axes[r][c]; // rows: own axes
        }
    }
    element.to_own = Matrix12::Zero();
    for (int end = 0; end < 2; ++end) {
        Eigen::Matrix<double, 6, 6> own = Eigen::Matrix<double, 6, 6>::Zero();
        own.topLeftCorner<3, 3>() = turn;
        own.bottomRightCorner<3, 3>() = turn;
        element.to_own.block<6, 6>(6 * end, 6 * end) = own * arm_matrix(end == 0 ? beam.arm_a_mm : beam.arm_b_mm);
    }
    return element;
}

} // namespace evenclose
