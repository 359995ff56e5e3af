#include "checks/pressure/no_tension.hpp"

#include <Eigen/Dense>

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

// Newton's steps are few, since the active cells settle; the bound only guards against a loop.
constexpr int kMostSteps = 200;
// Force and moments are met to this share of the force, or of the force times the footprint's size.
constexpr double kBalance = 1e-10;

struct Balance {
    Eigen::Vector3d unmet;     // force and moments wanted less those borne, in scaled units
    Eigen::Matrix3d stiffness; // their derivative
    double energy = 0;         // what the plane minimises
    double pressed_mm2 = 0;
};

/// Places are taken from the footprint's middle, over its size, so that the three unknowns are alike.
Balance balance_at(const std::vector<FootprintCell>& cells, const Eigen::Vector3d& plane, const Eigen::Vector3d& wanted,
                   Vec2 middle, double size) {
    Balance result;
    result.unmet = wanted;
    result.stiffness.setZero();
    result.energy = -plane.dot(wanted);
    for (const FootprintCell& cell : cells) {
        const Eigen::Vector3d shape{1, (cell.at_mm.x - middle.x) / size, (cell.at_mm.y - middle.y) / size};
        const double q = plane.dot(shape);
        if (q > 0) {
            result.unmet -= q * cell.area_mm2 * shape;
            result.stiffness += cell.area_mm2 * shape * shape.transpose();
            result.energy += 0.5 * q * q * cell.area_mm2;
            result.pressed_mm2 += cell.area_mm2;
        }
    }
    return result;
}

} // namespace

double NoTensionPressure::at_MPa(Vec2 place_mm) const {
    return std::max(0.0, level_MPa + slope_MPa_per_mm.x * place_mm.x + slope_MPa_per_mm.y * place_mm.y);
}

std::optional<NoTensionPressure> no_tension_pressure(const std::vector<FootprintCell>& cells, double force_N,
                                                     Vec2 acts_at_mm) {
    double area = 0;
    Vec2 middle{0.0};
    for (const FootprintCell& cell : cells) {
        area += cell.area_mm2;
        middle += cell.area_mm2 * cell.at_mm;
    }
    if (!(area > 0) || !(force_N > 0)) {
        return std::nullopt;
    }
    middle /= area;
    double size = 0;
    for (const FootprintCell& cell : cells) {
        size = std::max({size, std::abs(cell.at_mm.x - middle.x), std::abs(cell.at_mm.y - middle.y)});
    }
    if (!(size > 0)) {
        return std::nullopt;
    }
    // The true minimum pulls nowhere on the footprint's far side; start from the even pressure.
    const Eigen::Vector3d wanted =
        force_N * Eigen::Vector3d{1, (acts_at_mm.x - middle.x) / size, (acts_at_mm.y - middle.y) / size};
    Eigen::Vector3d plane{force_N / area, 0, 0};
    Balance balance = balance_at(cells, plane, wanted, middle, size);
    for (int step = 0; step < kMostSteps && balance.unmet.norm() > kBalance * force_N; ++step) {
        // A trace of stiffness keeps the step finite where the pressed cells lie in one line.
        const Eigen::Matrix3d steady = balance.stiffness + 1e-12 * area * Eigen::Matrix3d::Identity();
        const Eigen::Vector3d way = steady.ldlt().solve(balance.unmet);
        double share = 1;
        Balance next = balance_at(cells, plane + way, wanted, middle, size);
        while (!(next.energy < balance.energy) && share > 1e-9) {
            share *= 0.5;
            next = balance_at(cells, plane + share * way, wanted, middle, size);
        }
        if (!std::isfinite(next.energy) || share <= 1e-9) {
            break;
        }
        plane += share * way;
        balance = next;
    }
    if (!(balance.unmet.norm() <= 1e-6 * force_N)) {
        return std::nullopt;
    }
    NoTensionPressure result;
    result.slope_MPa_per_mm = {plane(1) / size, plane(2) / size};
    result.level_MPa = plane(0) - result.slope_MPa_per_mm.x * middle.x - result.slope_MPa_per_mm.y * middle.y;
    result.contact_share = balance.pressed_mm2 / area;
    return result;
}

std::vector<FootprintCell> rectangle_cells(Vec2 size_mm, int along, int across) {
    std::vector<FootprintCell> cells;
    const Vec2 cell{size_mm.x / along, size_mm.y / across};
    for (int j = 0; j < across; ++j) {
        for (int i = 0; i < along; ++i) {
            cells.push_back(
                {{-0.5 * size_mm.x + (i + 0.5) * cell.x, -0.5 * size_mm.y + (j + 0.5) * cell.y}, cell.x * cell.y});
        }
    }
    return cells;
}

double kern_use(Vec2 size_mm, Vec2 eccentricity_mm) {
    return 6 * std::abs(eccentricity_mm.x) / size_mm.x + 6 * std::abs(eccentricity_mm.y) / size_mm.y;
}

StripPressure strip_pressure(double force_N, double length_mm, double width_mm, double eccentricity_mm) {
    const double even = force_N / (length_mm * width_mm);
    const double lean = 6 * eccentricity_mm / length_mm;
    if (lean <= 1) {
        return {length_mm, even * (1 + lean), even * (1 - lean)};
    }
    const double contact = 3 * (0.5 * length_mm - eccentricity_mm);
    return {contact, 2 * force_N / (width_mm * contact), 0};
}

std::optional<CornerPressure> corner_pressure(double force_N, Vec2 size_mm, Vec2 from_corner_mm) {
    const Vec2 legs = 4.0 * from_corner_mm;
    if (!(legs.x > 0 && legs.y > 0) || legs.x > size_mm.x || legs.y > size_mm.y) {
        return std::nullopt;
    }
    return CornerPressure{legs, 6 * force_N / (legs.x * legs.y)};
}

std::vector<double> jack_shares(const std::vector<Vec2>& jacks_mm, Vec2 acts_at_mm) {
    const auto count = static_cast<Eigen::Index>(jacks_mm.size());
    Vec2 middle{0.0};
    for (const Vec2 jack : jacks_mm) {
        middle += jack / static_cast<double>(count);
    }
    double size = 1;
    for (const Vec2 jack : jacks_mm) {
        size = std::max({size, std::abs(jack.x - middle.x), std::abs(jack.y - middle.y)});
    }
    // Equal springs under a rigid platen give the shares of least sum of squares that meet the three balances; jacks in
    // one line leave the balance across it to others, which a pseudo-inverse of the middle terms does.
    Eigen::Matrix2d spread = Eigen::Matrix2d::Zero();
    const auto arm = [&](Vec2 place) {
        return Eigen::Vector2d{(place.x - middle.x) / size, (place.y - middle.y) / size};
    };
    for (const Vec2 jack : jacks_mm) {
        spread += arm(jack) * arm(jack).transpose();
    }
    const Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d> axes(spread);
    std::vector<double> shares;
    for (const Vec2 jack : jacks_mm) {
        double share = 1.0 / static_cast<double>(count);
        for (int i = 0; i < 2; ++i) {
            if (axes.eigenvalues()(i) > 1e-9) {
                const Eigen::Vector2d along = axes.eigenvectors().col(i);
                share += along.dot(arm(acts_at_mm)) * along.dot(arm(jack)) / axes.eigenvalues()(i);
            }
        }
        shares.push_back(share);
    }
    return shares;
}

} // namespace evenclose
