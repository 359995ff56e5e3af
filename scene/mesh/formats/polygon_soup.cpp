#include "scene/mesh/formats/polygon_soup.hpp"

#include "scene/mesh/formats/welder.hpp"
#include "scene/mesh/large_memory.hpp"
#include "scene/mesh/polygon.hpp"
#include "scene/mesh/predicates.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <cmath>
#include <stdexcept>

namespace evenclose {
namespace {

// Ears are looked for in cubic time at worst; drawn faces have some ten corners, round ends of CAD solids some hundred.
constexpr std::size_t kMostForEars = 2000;

/// Newell's: the sum over the edges, the polygon's area vector twice over; sound for faces that are not quite flat.
Vec3 normal_of(std::span<const std::uint32_t> face, const std::vector<Vec3>& vertices) {
    Vec3 sum{0.0};
    const Vec3& origin = vertices[face[0]];
    for (std::size_t i = 1; i + 1 < face.size(); ++i) {
        sum += glm::cross(vertices[face[i]] - origin, vertices[face[i + 1]] - origin);
    }
    return sum;
}

/// A corner seen along the axis that the normal is nearest to, such that the face turns counter-clockwise.
struct Projection {
    int u = 0, v = 1;
    explicit Projection(const Vec3& normal) {
        const Vec3 size = glm::abs(normal);
        const int dropped = size.x > size.y && size.x > size.z ? 0 : size.y > size.z ? 1 : 2;
        u = (dropped + 1) % 3;
        v = (dropped + 2) % 3;
        if (normal[dropped] < 0) {
            std::swap(u, v);
        }
    }
    [[nodiscard]] Vec2 operator()(const Vec3& at) const { return {at[u], at[v]}; }
};

void fan(std::span<const std::uint32_t> face, std::vector<TriangleCorners>& into) {
    for (std::size_t i = 1; i + 1 < face.size(); ++i) {
        into.push_back({face[0], face[i], face[i + 1]});
    }
}

/// Along the shorter of the diagonals that lie inside.
void cut_quad(std::span<const std::uint32_t> face, const std::vector<Vec3>& vertices, const Projection& flat,
              std::vector<TriangleCorners>& into) {
    const Vec2 a = flat(vertices[face[0]]), b = flat(vertices[face[1]]), c = flat(vertices[face[2]]),
               d = flat(vertices[face[3]]);
    const bool first_inside = orientation(a, b, c) > 0 && orientation(a, c, d) > 0;
    const bool second_inside = orientation(a, b, d) > 0 && orientation(b, c, d) > 0;
    const double first = glm::length(vertices[face[2]] - vertices[face[0]]);
    const double second = glm::length(vertices[face[3]] - vertices[face[1]]);
    if (second_inside && (!first_inside || second < first)) {
        into.push_back({face[0], face[1], face[3]});
        into.push_back({face[1], face[2], face[3]});
    } else {
        fan(face, into);
    }
}

} // namespace

void cut_face(std::span<const std::uint32_t> face, const std::vector<Vec3>& vertices,
              std::vector<TriangleCorners>& into) {
    if (face.size() == 3) {
        into.push_back({face[0], face[1], face[2]});
        return;
    }
    const Projection flat(normal_of(face, vertices));
    if (face.size() == 4) {
        cut_quad(face, vertices, flat, into);
        return;
    }
    if (face.size() <= kMostForEars) {
        Polygon polygon;
        for (const std::uint32_t corner : face) {
            polygon.outline_mm.push_back(flat(vertices[corner]));
        }
        try {
            const CutPolygon cut = cut_into_triangles(polygon);
            if (cut.corners_mm == polygon.outline_mm) { // none dropped, none turned round: the numbers still hold
                for (const auto& [a, b, c] : cut.triangles) {
                    into.push_back({face[a], face[b], face[c]});
                }
                return;
            }
        } catch (const std::invalid_argument&) {
            // not simple: as a fan
        }
    }
    fan(face, into);
}

RawResult welded(const PolygonSoup& soup) {
    RawMesh raw;
    Welder welder(soup.vertices.size());
    constexpr std::uint32_t kUnused = 0xFFFFFFFFU;
    std::vector<std::uint32_t> number(soup.vertices.size(), kUnused);
    reserve_large(raw.mesh.triangles, soup.face_sizes.size());
    std::size_t at = 0;
    for (std::size_t f = 0; f < soup.face_sizes.size(); ++f) {
        const auto face = std::span(soup.corners).subspan(at, soup.face_sizes[f]);
        at += face.size();
        for (const std::uint32_t corner : face) {
            if (corner >= soup.vertices.size()) {
                return NotRead{
                    fmt::format("face {} has a vertex that is not there (there are {})", f + 1, soup.vertices.size())};
            }
        }
        cut_face(face, soup.vertices, raw.mesh.triangles);
    }
    raw.corners_read = 3 * raw.mesh.triangles.size();
    for (TriangleCorners& triangle : raw.mesh.triangles) {
        for (std::uint32_t& corner : triangle) {
            if (number[corner] == kUnused) {
                number[corner] = welder.add(soup.vertices[corner]);
            }
            corner = number[corner];
        }
    }
    raw.mesh.vertices_mm = welder.take();
    return raw;
}

} // namespace evenclose
