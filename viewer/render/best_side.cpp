#include "viewer/render/best_side.hpp"

#include "viewer/render/ray_mesh.hpp"

#include <glm/geometric.hpp>

#include <array>
#include <cmath>
#include <memory>
#include <numbers>

namespace evenclose {
namespace {

struct Obstacle {
    std::shared_ptr<const RayMesh> rays;
    Pose to_mesh;
    double weight = 1;
};

std::vector<Vec3> sides() {
    std::vector<Vec3> all;
    constexpr int kRound = 12;
    for (const double elevation_deg : {12.0, 32.0, 58.0, -20.0}) {
        for (int i = 0; i < kRound; ++i) {
            const double round = 2.0 * std::numbers::pi * i / kRound;
            const double elevation = elevation_deg * std::numbers::pi / 180.0;
            all.emplace_back(std::cos(elevation) * std::cos(round), std::cos(elevation) * std::sin(round),
                             std::sin(elevation));
        }
    }
    return all;
}

} // namespace

Vec3 best_side(const Vec3& spot_mm, std::span<const Standing> bodies, double radius_mm, double distance_mm) {
    std::vector<Obstacle> obstacles;
    for (const Standing& body : bodies) {
        if (body.mesh != nullptr) {
            obstacles.push_back({ray_mesh_of(body.mesh), inverse(body.pose), body.involved ? 0.5 : 1.0});
        }
    }
    // The spot itself lies on a surface, or between two that touch; the places round it are what the eye needs to see.
    const std::array<Vec3, 7> places = {Vec3{0.0},
                                        {radius_mm, 0.0, 0.0},
                                        {-radius_mm, 0.0, 0.0},
                                        {0.0, radius_mm, 0.0},
                                        {0.0, -radius_mm, 0.0},
                                        {0.0, 0.0, radius_mm},
                                        {0.0, 0.0, -radius_mm}};
    const Vec3 liked = glm::normalize(Vec3{0.45, -0.80, 0.40});
    Vec3 best = liked;
    double best_score = -1e300;
    for (const Vec3& side : sides()) {
        double seen = 0;
        for (const Vec3& place : places) {
            double hidden = 0;
            for (const Obstacle& obstacle : obstacles) {
                const Vec3 from = obstacle.to_mesh.apply(spot_mm + place);
                const auto hit = obstacle.rays->first_hit(from, obstacle.to_mesh.turn(side), 0.05);
                if (hit && hit->along_mm < distance_mm) {
                    hidden = std::max(hidden, obstacle.weight);
                }
            }
            seen += 1.0 - hidden;
        }
        // One place more in sight outweighs any liking for a side.
        const double score = seen + 0.45 * glm::dot(side, liked) - (side.z < 0 ? 0.4 : 0.0);
        if (score > best_score) {
            best_score = score;
            best = side;
        }
    }
    return best;
}

} // namespace evenclose
