#include "scene/mesh/shapes.hpp"

#include "scene/mesh/polygon.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <stdexcept>
#include <string_view>
#include <utility>

namespace evenclose {
namespace {

constexpr int kMostSides = 1'000'000; // beyond it corners coincide or numbers overflow

void need_size(std::string_view shape, std::string_view what, double value) {
    if (!(value > 0) || !std::isfinite(value)) {
        throw std::invalid_argument(fmt::format("{}: {} is {:g} mm, must be above 0", shape, what, value));
    }
}
void need_count(std::string_view shape, std::string_view what, int value, int least, int most = kMostSides) {
    if (value < least || value > most) {
        throw std::invalid_argument(fmt::format("{}: {} is {}, must be {} to {}", shape, what, value, least, most));
    }
}

std::uint32_t add_vertex(TriangleMesh& mesh, const Vec3& at) {
    mesh.vertices_mm.push_back(at);
    return static_cast<std::uint32_t>(mesh.vertices_mm.size() - 1);
}

/// Counter-clockwise seen from outside.
void add_quad(TriangleMesh& mesh, std::uint32_t a, std::uint32_t b, std::uint32_t c, std::uint32_t d) {
    mesh.triangles.push_back({a, b, c});
    mesh.triangles.push_back({a, c, d});
}

/// The k-th of n directions round the circle, exact on the axes, and mirrored halves equal to the last bit, so that
/// rings of one shape meet rings of another.
Vec2 on_circle(int k, int n) {
    const int eighth = 8 * k / n;                // which octant
    const auto direction = [n](int numerator8) { // angle = numerator8 / n of an eighth turn, 0 to 1
        const double angle = std::numbers::pi / 4 * numerator8 / n;
        return Vec2{std::cos(angle), std::sin(angle)};
    };
    const int along = 8 * k - eighth * n; // 0 to n within the octant
    const Vec2 d = eighth % 2 == 0 ? direction(along) : direction(n - along);
    switch (eighth) {
    case 0:
        return d;
    case 1:
        return {d.y, d.x};
    case 2:
        return {-d.y, d.x};
    case 3:
        return {-d.x, d.y};
    case 4:
        return {-d.x, -d.y};
    case 5:
        return {-d.y, -d.x};
    case 6:
        return {d.y, -d.x};
    default:
        return {d.x, -d.y};
    }
}

/// A ring of corners at height z; gives the first's number.
std::uint32_t add_ring(TriangleMesh& mesh, double radius, double z, int sides) {
    const auto first = static_cast<std::uint32_t>(mesh.vertices_mm.size());
    for (int k = 0; k < sides; ++k) {
        const Vec2 d = on_circle(k, sides);
        mesh.vertices_mm.emplace_back(radius * d.x, radius * d.y, z);
    }
    return first;
}

/// The wall between two rings, outward when `lower` is below and the wall is the solid's outside.
void add_wall(TriangleMesh& mesh, std::uint32_t lower, std::uint32_t upper, int sides) {
    for (int k = 0; k < sides; ++k) {
        const auto here = static_cast<std::uint32_t>(k), next = static_cast<std::uint32_t>((k + 1) % sides);
        add_quad(mesh, lower + here, lower + next, upper + next, upper + here);
    }
}

/// Triangles from a ring to one corner: over it when `up`, under it otherwise.
void add_fan(TriangleMesh& mesh, std::uint32_t ring, std::uint32_t corner, int sides, bool up) {
    for (int k = 0; k < sides; ++k) {
        std::uint32_t a = ring + static_cast<std::uint32_t>(k), b = ring + static_cast<std::uint32_t>((k + 1) % sides);
        if (!up) {
            std::swap(a, b);
        }
        mesh.triangles.push_back({a, b, corner});
    }
}

TriangleMesh solid_of(std::vector<Vec3> corners, std::vector<TriangleCorners> triangles) {
    return {std::move(corners), std::move(triangles)};
}

} // namespace

TriangleMesh box_shape(const Vec3& low, const Vec3& high) {
    need_size("box", "length", high.x - low.x);
    need_size("box", "width", high.y - low.y);
    need_size("box", "height", high.z - low.z);
    TriangleMesh mesh;
    for (const double z : {low.z, high.z}) {
        add_vertex(mesh, {low.x, low.y, z});
        add_vertex(mesh, {high.x, low.y, z});
        add_vertex(mesh, {high.x, high.y, z});
        add_vertex(mesh, {low.x, high.y, z});
    }
    add_quad(mesh, 3, 2, 1, 0);
    add_quad(mesh, 4, 5, 6, 7);
    add_wall(mesh, 0, 4, 4);
    return mesh;
}

TriangleMesh cylinder_shape(double radius, double height, int sides) {
    need_size("cylinder", "radius", radius);
    need_size("cylinder", "height", height);
    need_count("cylinder", "sides", sides, 3);
    TriangleMesh mesh;
    const auto bottom = add_ring(mesh, radius, 0, sides);
    const auto top = add_ring(mesh, radius, height, sides);
    add_wall(mesh, bottom, top, sides);
    add_fan(mesh, bottom, add_vertex(mesh, {0, 0, 0}), sides, false);
    add_fan(mesh, top, add_vertex(mesh, {0, 0, height}), sides, true);
    return mesh;
}

TriangleMesh cone_shape(double radius, double height, int sides) {
    need_size("cone", "radius", radius);
    need_size("cone", "height", height);
    need_count("cone", "sides", sides, 3);
    TriangleMesh mesh;
    const auto bottom = add_ring(mesh, radius, 0, sides);
    add_fan(mesh, bottom, add_vertex(mesh, {0, 0, 0}), sides, false);
    add_fan(mesh, bottom, add_vertex(mesh, {0, 0, height}), sides, true);
    return mesh;
}

TriangleMesh tube_shape(double radius, double bore_radius, double height, int sides) {
    need_size("tube", "radius", radius);
    need_size("tube", "bore radius", bore_radius);
    need_size("tube", "wall", radius - bore_radius);
    need_size("tube", "height", height);
    need_count("tube", "sides", sides, 3);
    TriangleMesh mesh;
    const auto bottom = add_ring(mesh, radius, 0, sides);
    const auto top = add_ring(mesh, radius, height, sides);
    const auto bore_bottom = add_ring(mesh, bore_radius, 0, sides);
    const auto bore_top = add_ring(mesh, bore_radius, height, sides);
    add_wall(mesh, bottom, top, sides);
    add_wall(mesh, top, bore_top, sides);
    add_wall(mesh, bore_top, bore_bottom, sides);
    add_wall(mesh, bore_bottom, bottom, sides);
    return mesh;
}

TriangleMesh sphere_shape(double radius, int segments, int bands) {
    need_size("sphere", "radius", radius);
    need_count("sphere", "segments", segments, 3);
    need_count("sphere", "bands", bands, 2);
    TriangleMesh mesh;
    const auto south = add_vertex(mesh, {0, 0, -radius});
    std::uint32_t below = 0;
    for (int band = 1; band < bands; ++band) {
        const Vec2 latitude = on_circle(band, 2 * bands); // x falls from 1 to -1 as we rise
        const auto ring = add_ring(mesh, radius * latitude.y, -radius * latitude.x, segments);
        if (band == 1) {
            add_fan(mesh, ring, south, segments, false);
        } else {
            add_wall(mesh, below, ring, segments);
        }
        below = ring;
    }
    add_fan(mesh, below, add_vertex(mesh, {0, 0, radius}), segments, true);
    return mesh;
}

TriangleMesh icosphere_shape(double radius, int splits) {
    need_size("sphere", "radius", radius);
    need_count("sphere", "splits", splits, 0, 11);
    TriangleMesh mesh = icosahedron_shape(radius);
    for (int split = 0; split < splits; ++split) {
        std::map<std::pair<std::uint32_t, std::uint32_t>, std::uint32_t> middles;
        const auto middle = [&](std::uint32_t a, std::uint32_t b) {
            const auto key = std::minmax(a, b);
            const auto [found, is_new] = middles.try_emplace(key, 0);
            if (is_new) {
                found->second = add_vertex(mesh, mesh.vertices_mm[key.first] + mesh.vertices_mm[key.second]);
            }
            return found->second;
        };
        std::vector<TriangleCorners> finer;
        finer.reserve(4 * mesh.triangles.size());
        for (const auto& [a, b, c] : mesh.triangles) {
            const std::uint32_t ab = middle(a, b), bc = middle(b, c), ca = middle(c, a);
            finer.insert(finer.end(), {{a, ab, ca}, {ab, b, bc}, {ca, bc, c}, {ab, bc, ca}});
        }
        mesh.triangles = std::move(finer);
        for (Vec3& vertex : mesh.vertices_mm) {
            vertex *= radius / glm::length(vertex);
        }
    }
    for (Vec3& vertex : mesh.vertices_mm) {
        vertex *= radius / glm::length(vertex);
    }
    return mesh;
}

TriangleMesh torus_shape(double ring_radius, double tube_radius, int segments, int sides) {
    need_size("torus", "ring radius", ring_radius);
    need_size("torus", "tube radius", tube_radius);
    need_size("torus", "hole", ring_radius - tube_radius);
    need_count("torus", "segments", segments, 3);
    need_count("torus", "sides", sides, 3);
    TriangleMesh mesh;
    std::vector<std::uint32_t> rings;
    rings.reserve(static_cast<std::size_t>(sides));
    for (int side = 0; side < sides; ++side) { // from the outside up and over
        const Vec2 d = on_circle(side, sides);
        rings.push_back(add_ring(mesh, ring_radius + tube_radius * d.x, tube_radius * d.y, segments));
    }
    for (std::size_t side = 0; side < rings.size(); ++side) {
        add_wall(mesh, rings[side], rings[(side + 1) % rings.size()], segments);
    }
    return mesh;
}

TriangleMesh tetrahedron_shape(double edge) {
    need_size("tetrahedron", "edge", edge);
    const double h = edge / std::sqrt(8.0);
    return solid_of({{h, h, h}, {h, -h, -h}, {-h, h, -h}, {-h, -h, h}}, {{0, 1, 2}, {0, 3, 1}, {0, 2, 3}, {1, 3, 2}});
}

TriangleMesh octahedron_shape(double edge) {
    need_size("octahedron", "edge", edge);
    const double h = edge / std::numbers::sqrt2;
    return solid_of({{h, 0, 0}, {0, h, 0}, {-h, 0, 0}, {0, -h, 0}, {0, 0, h}, {0, 0, -h}},
                    {{0, 1, 4}, {1, 2, 4}, {2, 3, 4}, {3, 0, 4}, {1, 0, 5}, {2, 1, 5}, {3, 2, 5}, {0, 3, 5}});
}

TriangleMesh icosahedron_shape(double edge) {
    need_size("icosahedron", "edge", edge);
    const double h = edge / 2, g = edge * std::numbers::phi / 2;
    return solid_of({{-h, g, 0},
                     {h, g, 0},
                     {-h, -g, 0},
                     {h, -g, 0},
                     {0, -h, g},
                     {0, h, g},
                     {0, -h, -g},
                     {0, h, -g},
                     {g, 0, -h},
                     {g, 0, h},
                     {-g, 0, -h},
                     {-g, 0, h}},
                    {{0, 11, 5},  {0, 5, 1},  {0, 1, 7},  {0, 7, 10}, {0, 10, 11}, {1, 5, 9}, {5, 11, 4},
                     {11, 10, 2}, {10, 7, 6}, {7, 1, 8},  {3, 9, 4},  {3, 4, 2},   {3, 2, 6}, {3, 6, 8},
                     {3, 8, 9},   {4, 9, 5},  {2, 4, 11}, {6, 2, 10}, {8, 6, 7},   {9, 8, 1}});
}

TriangleMesh extruded_shape(const Polygon& polygon, double from_z, double to_z) {
    need_size("extrusion", "height", to_z - from_z);
    const CutPolygon cut = cut_into_triangles(polygon);
    const auto n = static_cast<std::uint32_t>(cut.corners_mm.size());
    TriangleMesh mesh;
    for (const double z : {from_z, to_z}) {
        for (const Vec2& corner : cut.corners_mm) {
            add_vertex(mesh, {corner.x, corner.y, z});
        }
    }
    for (const auto& [a, b, c] : cut.triangles) {
        mesh.triangles.push_back({c, b, a});
        mesh.triangles.push_back({n + a, n + b, n + c});
    }
    const auto wall = [&](std::uint32_t first, std::uint32_t count) {
        for (std::uint32_t k = 0; k < count; ++k) {
            const std::uint32_t here = first + k, next = first + (k + 1) % count;
            add_quad(mesh, here, next, n + next, n + here);
        }
    };
    const auto outline = static_cast<std::uint32_t>(cut.outline_size);
    wall(0, outline);
    wall(outline, n - outline);
    return mesh;
}

} // namespace evenclose
