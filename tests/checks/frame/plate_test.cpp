// Plates against series and the platen cases of REFERENCE 11. Thin plates: E t^3 chosen so that D = 1 for a = 1.
#include "checks/frame/solve.hpp"

#include "tests/within.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <cmath>
#include <functional>

namespace evenclose {
using test::near;
using test::within;

namespace {

struct PlateCase {
    double a = 1, b = 1, t = 0.001, E = 0, poisson = 0.3, q = 1; // a along X, b along Y
    int nx = 32, ny = 32;
    [[nodiscard]] double D() const { return E * t * t * t / (12 * (1 - poisson * poisson)); }
};

struct PlateAnswer {
    SpaceFrame frame;
    FrameState state;
    int nx = 0, ny = 0;
    [[nodiscard]] std::size_t node(int i, int j) const { return static_cast<std::size_t>(j * (nx + 1) + i); }
    [[nodiscard]] double w(double x_share, double y_share) const {
        return -state
                    .motions[node(static_cast<int>(std::lround(x_share * nx)),
                                  static_cast<int>(std::lround(y_share * ny)))]
                    .move_mm.z;
    }
    /// Mean of the elements round a node, or linearly out to the edge from the two rows beside it.
    [[nodiscard]] const PlateForces& element(int i, int j) const {
        return state.plate_forces[static_cast<std::size_t>(j * nx + i)];
    }
};

PlateAnswer bent(const PlateCase& plate, const std::function<void(FrameNode&, double, double)>& support) {
    PlateAnswer answer;
    answer.nx = plate.nx;
    answer.ny = plate.ny;
    for (int j = 0; j <= plate.ny; ++j) {
        for (int i = 0; i <= plate.nx; ++i) {
            const double x = static_cast<double>(i) / plate.nx;
            const double y = static_cast<double>(j) / plate.ny;
            FrameNode node{{plate.a * x, plate.b * y, 0}, {true, true, false, false, false, true}}; // bending only
            support(node, x, y);
            answer.frame.nodes.push_back(node);
        }
    }
    for (int j = 0; j < plate.ny; ++j) {
        for (int i = 0; i < plate.nx; ++i) {
            answer.frame.plates.push_back(
                {{answer.node(i, j), answer.node(i + 1, j), answer.node(i + 1, j + 1), answer.node(i, j + 1)},
                 plate.t,
                 plate.E,
                 plate.poisson,
                 {0, 0, -plate.q}});
        }
    }
    answer.state = solve(answer.frame, {{}}).states[0];
    return answer;
}

bool edge(double share) { return share == 0 || share == 1; }

void simple_edges(FrameNode& node, double x, double y) {
    if (edge(x)) {
        node.held[2] = node.held[3] = true; // the turn along the edge's own normal stays 0: a hard support
    }
    if (edge(y)) {
        node.held[2] = node.held[4] = true;
    }
}

/// E for D = 1.
double unit_E(double t, double poisson) { return 12 * (1 - poisson * poisson) / (t * t * t); }

} // namespace

TEST_CASE(
    "11.1 simply supported plate, uniform load: alpha and beta by b/a (Levy series, Timoshenko, table 8, Roark 11.4)") {
    struct Row {
        double ratio, alpha, beta, roark_alpha, roark_beta;
    };
    const Row rows[] = {
        {1, .004062, .0479, .0444, .2874},   {1.2, .005651, .0627, .0616, .3762}, {1.4, .007085, .0755, .0770, .4530},
        {1.6, .008308, .0862, .0906, .5172}, {1.8, .009316, .0948, .1017, .5688}, {2, .010129, .1017, .1110, .6102},
        {3, .012233, .1189, .1335, .7134},   {4, .012819, .1235, .1400, .7410},   {5, .012971, .1246, .1417, .7476}};
    for (const Row& row : rows) {
        CAPTURE(row.ratio);
        PlateCase plate;
        plate.b = row.ratio;
        plate.E = unit_E(plate.t, plate.poisson);
        plate.nx = 48;
        plate.ny = 2 * static_cast<int>(std::lround(18 * row.ratio));
        const PlateAnswer answer = bent(plate, simple_edges);
        const double alpha = answer.w(0.5, 0.5);
        const double beta = answer.element(plate.nx / 2, plate.ny / 2).mx_N;
        CAPTURE(alpha);
        CAPTURE(beta);
        CHECK(within(alpha, row.alpha, 0.001));
        CHECK(near(std::abs(beta), row.beta, 0.001 * row.beta + 5e-5)); // printed to four places
        CHECK(within(10.92 * alpha, row.roark_alpha, 0.006));
        CHECK(within(6 * std::abs(beta), row.roark_beta, 0.006));
    }
}

TEST_CASE("11.2 plate 300x600x20 under 0.3 MPa: w 0.16800, stress 41.19") {
    PlateCase plate{300, 600, 20, 200000, 0.3, 0.3, 40, 60};
    CHECK(near(plate.D(), 146520146.5, 0.06));
    // Thin-plate figures: made thin at the same D, so that shear adds nothing.
    const double thin = 0.2;
    PlateCase kirchhoff = plate;
    kirchhoff.t = thin;
    kirchhoff.E = plate.E * std::pow(plate.t / thin, 3);
    const PlateAnswer answer = bent(kirchhoff, simple_edges);
    CHECK(within(answer.w(0.5, 0.5), 0.16800, 0.002));
    CHECK(within(6 * std::abs(answer.element(20, 30).mx_N) / 400, 41.19, 0.002));
    // As thick as it is, shear adds about 1.5 % and no more.
    const double thick = bent(plate, simple_edges).w(0.5, 0.5);
    CHECK(thick > 0.16800);
    CHECK(thick < 1.03 * 0.16800);
}

TEST_CASE("11.3 square plate on its four corners (ν 0.25: Timoshenko, 0.3: own element of the reference)") {
    struct Row {
        double poisson, w, centre, edge;
    };
    for (const Row& row : {Row{0.25, 0.02566, 0.1108, 0.1521}, Row{0.3, 0.02550, 0.1117, 0.1505}}) {
        CAPTURE(row.poisson);
        PlateCase plate;
        plate.poisson = row.poisson;
        plate.E = unit_E(plate.t, row.poisson);
        const PlateAnswer answer =
            bent(plate, [](FrameNode& node, double x, double y) { node.held[2] = edge(x) && edge(y); });
        CHECK(within(answer.w(0.5, 0.5), row.w, 0.01));
        CHECK(within(std::abs(answer.element(16, 16).mx_N), row.centre, 0.01));
        // Mid edge: extrapolated from the first two rows of elements.
        const double m = 1.5 * answer.element(16, 0).mx_N - 0.5 * answer.element(16, 1).mx_N;
        CHECK(within(std::abs(m), row.edge, 0.01));
        if (row.poisson == 0.3) {
            CHECK(within(answer.w(0.5, 0), 0.01774, 0.01));
        }
    }
}

TEST_CASE("11.3 plates 1:1.5 and 1:2 on their four corners (in q b^4 / D, b short)") {
    const auto corners = [](FrameNode& node, double x, double y) { node.held[2] = edge(x) && edge(y); };
    PlateCase plate;
    plate.E = unit_E(plate.t, plate.poisson);
    plate.a = 1.5;
    plate.nx = 48;
    CHECK(within(bent(plate, corners).w(0.5, 0.5), 0.0798, 0.01));
    plate.a = 2;
    plate.nx = 64;
    const PlateAnswer answer = bent(plate, corners);
    CHECK(within(answer.w(0.5, 0.5), 0.2311, 0.01));
    CHECK(within(std::abs(answer.element(32, 16).mx_N), 0.4895, 0.01));
    CHECK(within(answer.w(0, 0.5), 0.0259, 0.01));
    CHECK(within(answer.w(0.5, 0), 0.2418, 0.01));
}

TEST_CASE("11.4 platen 2:1 on two line supports, at the quarter points and at the ends (in q b^4 / D)") {
    PlateCase plate;
    plate.E = unit_E(plate.t, plate.poisson);
    plate.a = 2;
    plate.nx = 64;
    plate.ny = 32;
    const PlateAnswer quarters =
        bent(plate, [](FrameNode& node, double x, double) { node.held[2] = x == 0.25 || x == 0.75; });
    CHECK(within(quarters.w(0.5, 0.5), -0.00264, 0.015));
    CHECK(within(quarters.w(0, 0.5), 0.01863, 0.015));
    const PlateAnswer ends = bent(plate, [](FrameNode& node, double x, double) { node.held[2] = edge(x); });
    CHECK(within(ends.w(0.5, 0.5), 0.2193, 0.015));
}

TEST_CASE("a skewed patch of plates bends and stretches evenly (patch test)") {
    SpaceFrame frame; // the outer corners of a 2 x 1 rectangle, four inner nodes anywhere
    const Vec2 at[] = {{0, 0}, {2, 0}, {2, 1}, {0, 1}, {0.4, 0.2}, {1.7, 0.3}, {1.5, 0.7}, {0.6, 0.75}};
    for (const Vec2 p : at) {
        frame.nodes.push_back({{p.x, p.y, 0}, kFree});
    }
    const std::array<std::size_t, 4> cells[] = {{0, 1, 5, 4}, {1, 2, 6, 5}, {2, 3, 7, 6}, {3, 0, 4, 7}, {4, 5, 6, 7}};
    for (const auto& cell : cells) {
        frame.plates.push_back({cell, 0.05, 1000, 0.3, {0, 0, 0}});
    }
    // Stretch by e along X: held at x = 0, pulled at x = 2 with the forces of sigma_x t over each half side.
    frame.nodes[0].held = {true, true, true, true, true, true};
    frame.nodes[3].held = {true, false, true, true, true, true};
    for (const std::size_t i : {1U, 2U}) {
        frame.nodes[i].held = {false, false, true, true, true, false};
    }
    const LoadCase pull{{{1, {{0.5, 0, 0}, {}}}, {2, {{0.5, 0, 0}, {}}}}}; // 1 N over 1 mm
    const FrameState state = solve(frame, {pull}).states[0];
    const double strain = 1 / (0.05 * 1000);
    for (std::size_t i = 0; i < 8; ++i) {
        CAPTURE(i);
        CHECK(near(state.motions[i].move_mm.x, strain * at[i].x, 1e-9));
        CHECK(near(state.motions[i].move_mm.y, -0.3 * strain * at[i].y, 1e-9));
    }
    for (const PlateForces& forces : state.plate_forces) {
        const double angle = std::atan2(forces.axes[0].y, forces.axes[0].x);
        CHECK(near(forces.nx_N_per_mm, std::cos(angle) * std::cos(angle), 1e-9));
    }
    // Bend by a curvature along X: moments at the ends.
    for (FrameNode& node : frame.nodes) {
        node.held = {true, true, false, false, false, true};
    }
    // w = (-x^2 + 0.3 y^2) k / 2: level at the first corner, no turn about Y along x = 0.
    frame.nodes[0].held[2] = frame.nodes[0].held[3] = frame.nodes[0].held[4] = frame.nodes[3].held[4] = true;
    const LoadCase bend{{{1, {{}, {0, -0.5, 0}}}, {2, {{}, {0, -0.5, 0}}}}};
    const FrameState curved = solve(frame, {bend}).states[0];
    const double EI = 1000 * 0.05 * 0.05 * 0.05 / 12;
    CHECK(within(curved.motions[1].turn_rad.y, -2 / EI, 1e-6));
    for (std::size_t i = 0; i < 8; ++i) {
        CAPTURE(i);
        CHECK(near(curved.motions[i].move_mm.z, (at[i].x * at[i].x - 0.3 * at[i].y * at[i].y) / (2 * EI), 1e-6 / EI));
    }
}

} // namespace evenclose
