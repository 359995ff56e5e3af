#include "scene/motion/level.hpp"

#include <Eigen/Dense>

#include <cmath>

namespace evenclose {
namespace {

// Heads whose spread across their line is less than this share of the spread along it stand in line: 10 mm in 1 m.
// On so short a lever a tenth of height would be a slope that no guide lets the platen take.
constexpr double kInLine = 1e-2;

// Rounding of heights near 1 m over levers near 1 m; on a platen of 2 m it is a millionth of a micrometre. A level
// platen must come out level, or it would be swept as a tilting one.
constexpr double kNoSlope = 1e-12;

double without_rounding(double slope) { return std::abs(slope) < kNoSlope ? 0.0 : slope; }

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

std::vector<HeadHeight> head_heights(const std::vector<ScrewJack>& jacks, Travel at) {
    std::vector<HeadHeight> heads;
    for (const ScrewJack& jack : jacks) {
        heads.push_back(
            {Vec2{jack.foot_mm}, jack.foot_mm.z + jack.closed_height_mm + jack.parked_mm + jack.rate * at.mm});
    }
    return heads;
}

SlopeRange slope_range_of(const std::vector<ScrewJack>& jacks, Travel at) {
    const LevelPlane plane = plane_through(head_heights(jacks, at));
    Slope reach;
    for (std::size_t i = 0; i < jacks.size(); ++i) {
        const double off_mm = std::abs(at.mm * jacks[i].rate_tolerance);
        reach.x += off_mm * std::abs(plane.slope_a_mm_head[i].x);
        reach.y += off_mm * std::abs(plane.slope_a_mm_head[i].y);
    }
    const Slope& nominal = plane.slope;
    return {{without_rounding(nominal.x - reach.x), without_rounding(nominal.y - reach.y)},
            {without_rounding(nominal.x + reach.x), without_rounding(nominal.y + reach.y)}};
}

} // namespace evenclose
