#include "viewer/render/joined_corners.hpp"

#include <bit>
#include <cmath>

namespace evenclose {
namespace {

constexpr std::uint32_t kNone = 0xFFFFFFFFU;
constexpr double kFarthest_mm = 1e12; // floats of the picture hold squares up to 1e38

bool drawable(const Vec3& p) {
    return std::abs(p.x) <= kFarthest_mm && std::abs(p.y) <= kFarthest_mm && std::abs(p.z) <= kFarthest_mm;
}

std::uint64_t mixed(std::uint64_t bits) { // the finaliser of MurmurHash3 (A. Appleby, public domain)
    bits ^= bits >> 33U;
    bits *= 0xff51afd7ed558ccdULL;
    bits ^= bits >> 33U;
    bits *= 0xc4ceb9fe1a85ec53ULL;
    return bits ^ (bits >> 33U);
}

std::uint64_t hash_of(const Vec3& p) {
    // + 0.0 turns -0 into 0: they compare equal and must hash equal.
    return mixed(mixed(mixed(std::bit_cast<std::uint64_t>(p.x + 0.0)) + std::bit_cast<std::uint64_t>(p.y + 0.0)) +
                 std::bit_cast<std::uint64_t>(p.z + 0.0));
}

} // namespace

JoinedCorners join_corners(const TriangleMesh& mesh) {
    JoinedCorners joined;
    const std::size_t count = mesh.vertices_mm.size();
    joined.vertices_mm.reserve(count);
    joined.source_vertex.reserve(count);
    std::vector<std::uint32_t> becomes(count, kNone);
    // Open addressing, at most half full.
    const std::size_t slots = std::bit_ceil(2 * count + 2);
    std::vector<std::uint32_t> table(slots, kNone);
    for (std::size_t i = 0; i < count; ++i) {
        const Vec3& place = mesh.vertices_mm[i];
        if (!drawable(place)) {
            continue;
        }
        std::size_t slot = hash_of(place) & (slots - 1);
        while (table[slot] != kNone && joined.vertices_mm[table[slot]] != place) {
            slot = (slot + 1) & (slots - 1);
        }
        if (table[slot] == kNone) {
            table[slot] = static_cast<std::uint32_t>(joined.vertices_mm.size());
            joined.vertices_mm.push_back(place);
            joined.source_vertex.push_back(static_cast<std::uint32_t>(i));
        }
        becomes[i] = table[slot];
    }
    joined.triangles.reserve(mesh.triangles.size());
    joined.source_triangle.reserve(mesh.triangles.size());
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
        std::array<std::uint32_t, 3> triangle{};
        bool whole = true;
        for (std::size_t k = 0; k < 3; ++k) {
            const std::uint32_t corner = mesh.triangles[i][k];
            triangle[k] = corner < count ? becomes[corner] : kNone;
            whole = whole && triangle[k] != kNone;
        }
        if (!whole) {
            joined.lost_triangles = true;
        } else if (triangle[0] != triangle[1] && triangle[1] != triangle[2] && triangle[2] != triangle[0]) {
            joined.triangles.push_back(triangle);
            joined.source_triangle.push_back(static_cast<std::uint32_t>(i));
        }
    }
    return joined;
}

} // namespace evenclose
