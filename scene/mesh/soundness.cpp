#include "scene/mesh/soundness.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <numeric>
#include <tuple>

namespace evenclose {
namespace {

constexpr double kSliver = 1e-3; // height over longest side; single-precision files still tell it from flat
constexpr double kFlat = 1e-12;  // twice the area over the longest side squared: rounding of a double, no shape

void note(Flaw& flaw, const Vec3& at_mm) {
    if (flaw.count++ == 0) {
        flaw.first_at_mm = at_mm;
    }
}

struct EdgeUse {
    std::uint32_t low = 0, high = 0;
    std::uint32_t triangle = 0;
    bool upward = false; // runs from low to high
};

bool same_edge(const EdgeUse& a, const EdgeUse& b) { return a.low == b.low && a.high == b.high; }

/// Which triangles hang together (disjoint sets with path halving).
class Sets {
public:
    explicit Sets(std::size_t count) : parent_(count) { std::iota(parent_.begin(), parent_.end(), 0U); }
    std::uint32_t find(std::uint32_t i) {
        while (parent_[i] != i) {
            parent_[i] = parent_[parent_[i]];
            i = parent_[i];
        }
        return i;
    }
    void join(std::uint32_t a, std::uint32_t b) {
        a = find(a);
        b = find(b);
        parent_[std::max(a, b)] = std::min(a, b); // the lowest stands for the set, whatever the order
    }

private:
    std::vector<std::uint32_t> parent_;
};

std::vector<EdgeUse> edge_uses(const TriangleMesh& mesh) {
    std::vector<EdgeUse> uses;
    uses.reserve(3 * mesh.triangles.size());
    for (std::uint32_t t = 0; t < mesh.triangles.size(); ++t) {
        const TriangleCorners& c = mesh.triangles[t];
        for (std::size_t k = 0; k < 3; ++k) {
            const std::uint32_t a = c[k];
            const std::uint32_t b = c[(k + 1) % 3];
            if (a != b) {
                uses.push_back({std::min(a, b), std::max(a, b), t, a < b});
            }
        }
    }
    std::sort(uses.begin(), uses.end(), [](const EdgeUse& a, const EdgeUse& b) {
        return std::tie(a.low, a.high, a.triangle, a.upward) < std::tie(b.low, b.high, b.triangle, b.upward);
    });
    return uses;
}

void judge_triangles(const TriangleMesh& mesh, Soundness& sound) {
    std::vector<TriangleCorners> sorted;
    sorted.reserve(mesh.triangles.size());
    for (const TriangleCorners& corners : mesh.triangles) {
        const Vec3& a = mesh.vertices_mm[corners[0]];
        const Vec3& b = mesh.vertices_mm[corners[1]];
        const Vec3& c = mesh.vertices_mm[corners[2]];
        const Vec3 ab = b - a;
        const Vec3 bc = c - b;
        const Vec3 ca = a - c;
        const double longest2 = std::max({glm::dot(ab, ab), glm::dot(bc, bc), glm::dot(ca, ca)});
        const double twice_area = glm::length(glm::cross(ab, ca));
        if (!(twice_area > kFlat * longest2)) {
            note(sound.flat_triangles, a);
        } else if (twice_area < kSliver * longest2) {
            note(sound.slivers, a);
        }
        TriangleCorners key = corners;
        std::sort(key.begin(), key.end());
        sorted.push_back(key);
    }
    std::sort(sorted.begin(), sorted.end());
    for (std::size_t i = 1; i < sorted.size(); ++i) {
        if (sorted[i] == sorted[i - 1]) {
            note(sound.doubled_triangles, mesh.vertices_mm[sorted[i][0]]);
        }
    }
}

} // namespace

Soundness soundness_of(const TriangleMesh& mesh) {
    Soundness sound;
    sound.box = bounds_of(mesh);
    judge_triangles(mesh, sound);

    Sets sets(mesh.triangles.size());
    std::vector<bool> open(mesh.triangles.size(), false); // touches an edge that keeps its shell from being closed
    const std::vector<EdgeUse> uses = edge_uses(mesh);
    for (auto first = uses.begin(); first != uses.end();) {
        const auto last =
            std::find_if_not(first, uses.end(), [&](const EdgeUse& use) { return same_edge(use, *first); });
        const auto count = last - first;
        const Vec3 at = 0.5 * (mesh.vertices_mm[first->low] + mesh.vertices_mm[first->high]);
        if (count == 1) {
            note(sound.open_edges, at);
        } else if (count > 2) {
            note(sound.crowded_edges, at);
        } else if (first->upward == (first + 1)->upward) {
            note(sound.turned_edges, at);
        }
        for (auto use = first; use != last; ++use) {
            sets.join(first->triangle, use->triangle);
            open[use->triangle] = open[use->triangle] || count != 2;
        }
        first = last;
    }

    // Volumes are taken from each shell's own corner, so that a shell far off loses no digits.
    std::vector<std::size_t> shell_of(mesh.triangles.size(), 0);
    for (std::uint32_t t = 0; t < mesh.triangles.size(); ++t) {
        const std::uint32_t root = sets.find(t);
        if (root == t) { // the lowest of its set comes first
            shell_of[t] = sound.shells.size();
            sound.shells.push_back({0, 0, true, mesh.vertices_mm[mesh.triangles[t][0]], 0, {}});
        }
        const std::size_t s = shell_of[root];
        shell_of[t] = s;
        Shell& shell = sound.shells[s];
        ++shell.triangles;
        shell.closed = shell.closed && !open[t];
        const Vec3& a = mesh.vertices_mm[mesh.triangles[t][0]];
        const Vec3& b = mesh.vertices_mm[mesh.triangles[t][1]];
        const Vec3& c = mesh.vertices_mm[mesh.triangles[t][2]];
        shell.signed_volume_mm3 += glm::dot(a - shell.at_mm, glm::cross(b - shell.at_mm, c - shell.at_mm)) / 6;
        shell.box.add(a);
        shell.box.add(b);
        shell.box.add(c);
    }
    for (Shell& shell : sound.shells) {
        const Vec3 size = shell.box.size_mm();
        shell.extent_mm = std::max({size.x, size.y, size.z});
    }
    std::stable_sort(sound.shells.begin(), sound.shells.end(),
                     [](const Shell& a, const Shell& b) { return a.triangles > b.triangles; });
    return sound;
}

} // namespace evenclose
