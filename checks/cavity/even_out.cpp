#include "checks/cavity/even_out.hpp"

#include <Eigen/Dense>

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

// A shift of 1 mm that changes the gaps by less than 0.02 mm drowns in what facets and print layers do to a face.
constexpr double kTold = 0.02;
constexpr int kSteps = 12; // each step gains two digits or more on anything a mold could be out by
constexpr double kSettled_mm = 1e-4;
constexpr std::size_t kEnough = 20;

struct Sum {
    Eigen::Matrix<double, 6, 6> normal = Eigen::Matrix<double, 6, 6>::Zero();
    Eigen::Matrix<double, 6, 1> right = Eigen::Matrix<double, 6, 1>::Zero();
    double area = 0, squares = 0;
    std::size_t count = 0;
};

/// Rows of the least-squares problem; turns are told as arc at `lever_mm` from `about_mm`, so that all six are in mm.
Sum sum_up(const GapMap& map, const Vec3& about_mm, double lever_mm) {
    Sum sum;
    for (std::size_t i = 0; i < map.samples.size(); ++i) {
        const GapSample& sample = map.samples[i];
        if (sample.seen != Seen::faced) {
            continue;
        }
        const Vec3 normal{sample.normal};
        const Vec3 facing{sample.facing};
        const double across = glm::dot(facing, normal);
        if (across < 0.3) {
            continue; // the faces do not face each other here: too rough to learn from
        }
        const Vec3 met = sample.at_mm + static_cast<double>(sample.gap_mm) * normal;
        const Vec3 turning = glm::cross(met - about_mm, facing) / (across * lever_mm);
        Eigen::Matrix<double, 6, 1> row;
        row << facing.x / across, facing.y / across, facing.z / across, turning.x, turning.y, turning.z;
        const auto area = static_cast<double>(sample.area_mm2);
        const double excess = map.excess_mm(i);
        sum.normal += area * row * row.transpose();
        sum.right -= area * excess * row;
        sum.area += area;
        sum.squares += area * excess * excess;
        ++sum.count;
    }
    return sum;
}

double rms(const GapMap& map) {
    double squares = 0;
    double area = 0;
    for (std::size_t i = 0; i < map.samples.size(); ++i) {
        if (map.samples[i].seen == Seen::faced) {
            squares += static_cast<double>(map.samples[i].area_mm2) * map.excess_mm(i) * map.excess_mm(i);
            area += static_cast<double>(map.samples[i].area_mm2);
        }
    }
    return area > 0 ? std::sqrt(squares / area) : 0.0;
}

Mat3 rotation(const Vec3& turn_rad) {
    const double angle = glm::length(turn_rad);
    return angle > 0 ? glm::mat3_cast(glm::angleAxis(angle, turn_rad / angle)) : Mat3{1.0};
}

Vec3 rotation_vector(const Mat3& turned) {
    Quat q = glm::quat_cast(turned);
    if (q.w < 0) {
        q = -q;
    }
    const Vec3 axis{q.x, q.y, q.z};
    const double sine = glm::length(axis);
    return sine > 1e-12 ? 2.0 * std::atan2(sine, q.w) / sine * axis : 2.0 * axis;
}

Evened evened(const FacingHalves& halves, const GapMap& map, bool travel_only) {
    Evened result;
    result.map = map;
    result.rms_before_mm = result.rms_after_mm = rms(map);
    Vec3 about{0.0};
    double area = 0;
    double lever = 0;
    for (const GapSample& sample : map.samples) {
        if (sample.seen == Seen::faced) {
            about += static_cast<double>(sample.area_mm2) * sample.at_mm;
            area += static_cast<double>(sample.area_mm2);
        }
    }
    if (!(area > 0)) {
        return result;
    }
    about /= area;
    for (const GapSample& sample : map.samples) {
        if (sample.seen == Seen::faced) {
            const Vec3 from = sample.at_mm - about;
            lever += static_cast<double>(sample.area_mm2) / area * glm::dot(from, from);
        }
    }
    lever = std::max(1e-6, std::sqrt(lever));
    result.by.about_mm = about;

    Pose pose; // of the upper half
    for (int step = 0; step < kSteps; ++step) {
        const Sum sum = sum_up(result.map, about, lever);
        if (sum.count < kEnough) {
            break;
        }
        Eigen::Matrix<double, 6, 1> motion = Eigen::Matrix<double, 6, 1>::Zero();
        if (travel_only) {
            if (sum.normal(2, 2) > kTold * kTold * sum.area) {
                motion(2) = sum.right(2) / sum.normal(2, 2);
                result.told[2] = true;
            }
        } else {
            const Eigen::SelfAdjointEigenSolver<Eigen::Matrix<double, 6, 6>> solver(sum.normal / sum.area);
            Eigen::Matrix<double, 6, 6> kept = Eigen::Matrix<double, 6, 6>::Zero();
            for (int k = 0; k < 6; ++k) {
                if (solver.eigenvalues()(k) > kTold * kTold) {
                    const Eigen::Matrix<double, 6, 1> way = solver.eigenvectors().col(k);
                    motion += way * (way.dot(sum.right) / sum.area / solver.eigenvalues()(k));
                    kept += way * way.transpose();
                }
            }
            for (int k = 0; k < 6; ++k) {
                result.told[static_cast<std::size_t>(k)] = kept(k, k) > 0.9;
            }
        }
        const Vec3 shift{motion(0), motion(1), motion(2)};
        const Vec3 turn = Vec3{motion(3), motion(4), motion(5)} / lever;
        const Mat3 turned = rotation(turn);
        const Pose move{turned, about + shift - turned * about};
        const Pose next = move * pose;
        GapMap moved = halves.moved(map, next);
        const double after = rms(moved);
        if (!(after < result.rms_after_mm) && step > 0) {
            result.settled = motion.norm() < 0.01;
            break; // as good as it gets
        }
        pose = next;
        result.map = std::move(moved);
        result.rms_after_mm = after;
        if (motion.norm() < kSettled_mm) {
            result.settled = true;
            break;
        }
    }
    result.by.turn_rad = rotation_vector(pose.rotation);
    result.by.shift_mm = pose.apply(about) - about;
    return result;
}

} // namespace

Pose RigidShift::pose() const {
    const Mat3 turned = rotation(turn_rad);
    return {turned, about_mm + shift_mm - turned * about_mm};
}

Evened even_out(const FacingHalves& halves, const GapMap& map) { return evened(halves, map, false); }
Evened even_out_by_travel(const FacingHalves& halves, const GapMap& map) { return evened(halves, map, true); }

} // namespace evenclose
