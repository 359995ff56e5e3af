#include "checks/clearance/soundness.hpp"

#include <fmt/format.h>

#include <cmath>
#include <stdexcept>

namespace evenclose {
namespace {

// A kilometre is no press part; beyond it a float no longer resolves a tenth of a millimetre.
constexpr double kFarthest_mm = 1e6;

} // namespace

void require_sound_input(const TriangleMesh& mesh) {
    if (mesh.empty()) {
        throw std::invalid_argument("the mesh has no triangles");
    }
    for (std::size_t i = 0; i < mesh.vertices_mm.size(); ++i) {
        const Vec3& v = mesh.vertices_mm[i];
        if (!std::isfinite(v.x) || !std::isfinite(v.y) || !std::isfinite(v.z)) {
            throw std::invalid_argument(fmt::format("vertex {} is not finite: ({}, {}, {})", i, v.x, v.y, v.z));
        }
        if (std::abs(v.x) > kFarthest_mm || std::abs(v.y) > kFarthest_mm || std::abs(v.z) > kFarthest_mm) {
            throw std::invalid_argument(
                fmt::format("vertex {} is more than a kilometre away: ({}, {}, {}) mm", i, v.x, v.y, v.z));
        }
    }
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
        for (const std::uint32_t corner : mesh.triangles[i]) {
            if (corner >= mesh.vertices_mm.size()) {
                throw std::invalid_argument(
                    fmt::format("triangle {} names vertex {}, but there are {}", i, corner, mesh.vertices_mm.size()));
            }
        }
    }
}

} // namespace evenclose
