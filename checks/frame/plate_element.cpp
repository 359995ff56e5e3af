#include "checks/frame/plate_element.hpp"

#include <Eigen/LU>

#include <glm/geometric.hpp>

#include <array>
#include <cmath>
#include <stdexcept>

namespace evenclose {
namespace {

constexpr std::array<double, 4> kXi{-1, 1, 1, -1};
constexpr std::array<double, 4> kEta{-1, -1, 1, 1};
constexpr double kShearShare = 5.0 / 6;
// Weak enough that the membrane is not stiffened by more than 1 %, strong enough to be far from singular.
constexpr double kDrilling = 0.01;

using Matrix3x24 = Eigen::Matrix<double, 3, 24>;
using Matrix2x24 = Eigen::Matrix<double, 2, 24>;
using Row24 = Eigen::Matrix<double, 1, 24>;

struct Shape {
    std::array<double, 4> N{}, dx{}, dy{};
    Eigen::Matrix2d jacobian; // rows: d/dxi, d/deta of x, y
    double determinant = 0;
};

/// The element in its own plane.
class Local {
public:
    Local(const SpaceFrame& frame, const FramePlate& plate) {
        Vec3 middle{0.0};
        std::array<Vec3, 4> p;
        for (std::size_t i = 0; i < 4; ++i) {
            p[i] = frame.nodes[plate.nodes[i]].at_mm;
            middle += 0.25 * p[i];
        }
        const Vec3 normal = glm::cross(p[2] - p[0], p[3] - p[1]);
        if (!(glm::length(normal) > 0)) {
            throw std::invalid_argument("frame: a plate element has no area");
        }
        const Vec3 z = glm::normalize(normal);
        const Vec3 along = 0.5 * (p[1] + p[2] - p[0] - p[3]);
        const Vec3 x = glm::normalize(along - glm::dot(along, z) * z);
        axes = Mat3{x, glm::cross(z, x), z};
        for (std::size_t i = 0; i < 4; ++i) {
            const Vec3 own = glm::transpose(axes) * (p[i] - middle);
            if (std::abs(own.z) > 0.01 * std::sqrt(glm::length(normal))) {
                throw std::invalid_argument("frame: a plate element is not flat");
            }
            corners[i] = {own.x, own.y};
        }
    }

    [[nodiscard]] Shape shape(double xi, double eta) const {
        Shape s;
        s.jacobian.setZero();
        std::array<double, 4> dxi{};
        std::array<double, 4> deta{};
        for (std::size_t i = 0; i < 4; ++i) {
            s.N[i] = 0.25 * (1 + xi * kXi[i]) * (1 + eta * kEta[i]);
            dxi[i] = 0.25 * kXi[i] * (1 + eta * kEta[i]);
            deta[i] = 0.25 * kEta[i] * (1 + xi * kXi[i]);
            s.jacobian(0, 0) += dxi[i] * corners[i].x;
            s.jacobian(0, 1) += dxi[i] * corners[i].y;
            s.jacobian(1, 0) += deta[i] * corners[i].x;
            s.jacobian(1, 1) += deta[i] * corners[i].y;
        }
        s.determinant = s.jacobian.determinant();
        if (!(s.determinant > 0)) {
            throw std::invalid_argument("frame: a plate element's corners are not in turn");
        }
        const Eigen::Matrix2d inverse = s.jacobian.inverse();
        for (std::size_t i = 0; i < 4; ++i) {
            s.dx[i] = inverse(0, 0) * dxi[i] + inverse(0, 1) * deta[i];
            s.dy[i] = inverse(1, 0) * dxi[i] + inverse(1, 1) * deta[i];
        }
        return s;
    }

    // Own motions of a node: u v w, turns about x y z. A normal's material point at height z moves by (ry z, -rx z).

    [[nodiscard]] static Matrix3x24 membrane(const Shape& s) {
        Matrix3x24 b = Matrix3x24::Zero();
        for (int i = 0; i < 4; ++i) {
            const auto n = static_cast<std::size_t>(i);
            b(0, 6 * i) = s.dx[n];
            b(1, 6 * i + 1) = s.dy[n];
            b(2, 6 * i) = s.dy[n];
            b(2, 6 * i + 1) = s.dx[n];
        }
        return b;
    }
    [[nodiscard]] static Matrix3x24 curvature(const Shape& s) {
        Matrix3x24 b = Matrix3x24::Zero();
        for (int i = 0; i < 4; ++i) {
            const auto n = static_cast<std::size_t>(i);
            b(0, 6 * i + 4) = s.dx[n];
            b(1, 6 * i + 3) = -s.dy[n];
            b(2, 6 * i + 4) = s.dy[n];
            b(2, 6 * i + 3) = -s.dx[n];
        }
        return b;
    }
    /// Shear strain along xi (row 0) and eta (row 1), covariant, as the plain bilinear element has it.
    [[nodiscard]] Matrix2x24 covariant_shear(double xi, double eta) const {
        const Shape s = shape(xi, eta);
        Matrix2x24 b = Matrix2x24::Zero();
        for (int i = 0; i < 4; ++i) {
            const auto n = static_cast<std::size_t>(i);
            const double dxi = 0.25 * kXi[n] * (1 + eta * kEta[n]);
            const double deta = 0.25 * kEta[n] * (1 + xi * kXi[n]);
            b(0, 6 * i + 2) = dxi;
            b(1, 6 * i + 2) = deta;
            b(0, 6 * i + 4) = s.N[n] * s.jacobian(0, 0);
            b(0, 6 * i + 3) = -s.N[n] * s.jacobian(0, 1);
            b(1, 6 * i + 4) = s.N[n] * s.jacobian(1, 0);
            b(1, 6 * i + 3) = -s.N[n] * s.jacobian(1, 1);
        }
        return b;
    }
    /// MITC4: taken at the middles of the sides, where it does not lock, and spread linearly between.
    [[nodiscard]] Matrix2x24 shear(double xi, double eta) const {
        Matrix2x24 tied;
        tied.row(0) = 0.5 * (1 - eta) * covariant_shear(0, -1).row(0) + 0.5 * (1 + eta) * covariant_shear(0, 1).row(0);
        tied.row(1) = 0.5 * (1 - xi) * covariant_shear(-1, 0).row(1) + 0.5 * (1 + xi) * covariant_shear(1, 0).row(1);
        return shape(xi, eta).jacobian.inverse() * tied;
    }
    /// Drilling turn less the plate's own rotation about its normal.
    [[nodiscard]] static Row24 drilling(const Shape& s) {
        Row24 b = Row24::Zero();
        for (int i = 0; i < 4; ++i) {
            const auto n = static_cast<std::size_t>(i);
            b(6 * i + 5) = s.N[n];
            b(6 * i) = 0.5 * s.dy[n];
            b(6 * i + 1) = -0.5 * s.dx[n];
        }
        return b;
    }
    [[nodiscard]] Matrix24 to_own() const {
        Matrix24 m = Matrix24::Zero();
        for (int block = 0; block < 8; ++block) {
            for (int r = 0; r < 3; ++r) {
                for (int c = 0; c < 3; ++c) {
                    m(3 * block + r, 3 * block + c) = axes[r][c];
                }
            }
        }
        return m;
    }

    Mat3 axes{1.0};
    std::array<Vec2, 4> corners{};
};

Eigen::Matrix3d plane_stress(const FramePlate& plate) {
    const double nu = plate.poisson;
    Eigen::Matrix3d d;
    d << 1, nu, 0, nu, 1, 0, 0, 0, 0.5 * (1 - nu);
    return plate.E_MPa / (1 - nu * nu) * d;
}

} // namespace

PlateElement element_of(const SpaceFrame& frame, const FramePlate& plate) {
    const Local local(frame, plate);
    const double t = plate.thickness_mm;
    const double G = 0.5 * plate.E_MPa / (1 + plate.poisson);
    const Eigen::Matrix3d stress = plane_stress(plate);
    Matrix24 k = Matrix24::Zero();
    PlateElement element;
    element.load.setZero();
    const double gauss = 1 / std::sqrt(3.0);
    for (const double eta : {-gauss, gauss}) {
        for (const double xi : {-gauss, gauss}) {
            const Shape s = local.shape(xi, eta);
            const double area = s.determinant;
            const Matrix3x24 m = Local::membrane(s);
            const Matrix3x24 b = Local::curvature(s);
            const Matrix2x24 g = local.shear(xi, eta);
            const Row24 d = Local::drilling(s);
            k += area * t * m.transpose() * stress * m;
            k += area * t * t * t / 12 * b.transpose() * stress * b;
            k += area * kShearShare * G * t * g.transpose() * g;
            k += area * kDrilling * G * t * d.transpose() * d;
            for (std::size_t i = 0; i < 4; ++i) {
                for (int axis = 0; axis < 3; ++axis) {
                    element.load(6 * static_cast<int>(i) + axis) += area * s.N[i] * plate.load_MPa[axis];
                }
            }
        }
    }
    const Matrix24 turn = local.to_own();
    element.stiffness = turn.transpose() * k * turn;
    return element;
}

PlateForces forces_of(const SpaceFrame& frame, const FramePlate& plate, const Vector24& motion) {
    const Local local(frame, plate);
    const Vector24 own = local.to_own() * motion;
    const Shape s = local.shape(0, 0);
    const double t = plate.thickness_mm;
    const Eigen::Matrix3d stress = plane_stress(plate);
    const Eigen::Vector3d m = t * t * t / 12 * stress * (Local::curvature(s) * own);
    const Eigen::Vector3d n = t * stress * (Local::membrane(s) * own);
    const double G = 0.5 * plate.E_MPa / (1 + plate.poisson);
    const Eigen::Vector2d q = kShearShare * G * t * (local.shear(0, 0) * own);
    return {local.axes, m(0), m(1), m(2), n(0), n(1), n(2), q(0), q(1)};
}

} // namespace evenclose
