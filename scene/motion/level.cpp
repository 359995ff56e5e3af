#include "scene/motion/level.hpp"

#include <Eigen/Dense>

#include <cmath>

namespace evenclose {
namespace {

// Heads whose spread across their line is less than this share of the spread along it stand in line: 10 mm in 1 m.
// On so short a lever a tenth of height would be a slope that no guide lets the platen take.
constexpr double kInLine = 1e-2;

} // namespace

double LevelPlane::height_mm(Vec2 at_mm) const {
    const Vec2 from = at_mm - centroid_mm;
    return height_at_centroid_mm + slope.x * from.x + slope.y * from.y;
}

double LevelPlane::tilt_rad() const { return std::atan(std::hypot(slope.x, slope.y)); }

LevelPlane plane_through(const std::vector<HeadHeight>& heads) {
    LevelPlane plane;
    const auto count = static_cast<double>(heads.size());
    for (const HeadHeight& head : heads) {
        plane.centroid_mm += head.at_mm / count;
        plane.height_at_centroid_mm += head.height_mm / count;
    }

    Eigen::MatrixX2d levers(static_cast<Eigen::Index>(heads.size()), 2);
    for (std::size_t i = 0; i < heads.size(); ++i) {
        const Vec2 lever = heads[i].at_mm - plane.centroid_mm;
        levers.row(static_cast<Eigen::Index>(i)) << lever.x, lever.y;
    }
    // The pseudo-inverse leaves the slope 0 in the directions in which the heads do not reach.
    Eigen::JacobiSVD<Eigen::MatrixXd> svd(levers, Eigen::ComputeThinU | Eigen::ComputeThinV);
    svd.setThreshold(kInLine);
    plane.in_line = svd.rank() < 2;
    if (plane.in_line) {
        plane.across_line = {svd.matrixV()(0, 1), svd.matrixV()(1, 1)};
    }
    const Eigen::MatrixXd influence =
        svd.solve(Eigen::MatrixXd::Identity(levers.rows(), levers.rows())); // 2 rows: sx and sy a mm of each head

    for (std::size_t i = 0; i < heads.size(); ++i) {
        const auto column = static_cast<Eigen::Index>(i);
        const Slope a_mm{influence(0, column), influence(1, column)};
        const double above_mean = heads[i].height_mm - plane.height_at_centroid_mm;
        plane.slope.x += a_mm.x * above_mean;
        plane.slope.y += a_mm.y * above_mean;
        plane.slope_a_mm_head.push_back(a_mm);
    }
    for (const HeadHeight& head : heads) {
        plane.residual_mm.push_back(head.height_mm - plane.height_mm(head.at_mm));
    }
    return plane;
}

} // namespace evenclose
