#include "viewer/export/cut_mesh.hpp"

#include <GL/glu.h>
#include <fmt/format.h>

#include <algorithm>
#include <cstdint>
#include <list>
#include <map>
#include <memory>
#include <stdexcept>
#include <unordered_map>
#include <utility>
#include <vector>

namespace evenclose {
namespace {

using Index = std::uint32_t;

/// The mesh that grows while its outlines are filled; what GLU calls back into.
struct Filling {
    TriangleMesh* mesh = nullptr;
    std::vector<Index> corners; // three a triangle
    std::list<Index> added;     // of corners that GLU makes where outlines cross
    GLenum fault = 0;
};

void corner(void* index, void* into) { static_cast<Filling*>(into)->corners.push_back(*static_cast<Index*>(index)); }
// Set so that GLU gives plain triangles, not fans and strips.
void edge_flag(GLboolean) {}
void combine(GLdouble at[3], void** /*of*/, GLfloat* /*weights*/, void** made, void* into) {
    auto& filling = *static_cast<Filling*>(into);
    filling.mesh->vertices_mm.emplace_back(at[0], at[1], at[2]);
    filling.added.push_back(static_cast<Index>(filling.mesh->vertices_mm.size() - 1));
    *made = &filling.added.back();
}
void fault(GLenum error, void* into) { static_cast<Filling*>(into)->fault = error; }

using Callback = void (*)();

/// Closes the outlines with faces that look along `outward`.
void fill(TriangleMesh& mesh, std::vector<std::vector<Index>>& outlines, const Vec3& outward) {
    const std::unique_ptr<GLUtesselator, decltype(&gluDeleteTess)> tess{gluNewTess(), gluDeleteTess};
    Filling filling{&mesh, {}, {}, 0};
    gluTessCallback(tess.get(), GLU_TESS_VERTEX_DATA, reinterpret_cast<Callback>(corner));
    gluTessCallback(tess.get(), GLU_TESS_EDGE_FLAG, reinterpret_cast<Callback>(edge_flag));
    gluTessCallback(tess.get(), GLU_TESS_COMBINE_DATA, reinterpret_cast<Callback>(combine));
    gluTessCallback(tess.get(), GLU_TESS_ERROR_DATA, reinterpret_cast<Callback>(fault));
    gluTessProperty(tess.get(), GLU_TESS_WINDING_RULE, GLU_TESS_WINDING_NONZERO);
    gluTessNormal(tess.get(), outward.x, outward.y, outward.z);
    gluTessBeginPolygon(tess.get(), &filling);
    for (std::vector<Index>& outline : outlines) {
        gluTessBeginContour(tess.get());
        for (Index& index : outline) {
            const Vec3 at = mesh.vertices_mm[index];
            GLdouble place[3] = {at.x, at.y, at.z};
            gluTessVertex(tess.get(), place, &index);
        }
        gluTessEndContour(tess.get());
    }
    gluTessEndPolygon(tess.get());
    if (filling.fault != 0) {
        throw std::runtime_error(fmt::format("a cut face cannot be closed: {}",
                                             reinterpret_cast<const char*>(gluErrorString(filling.fault))));
    }
    for (std::size_t i = 0; i + 2 < filling.corners.size(); i += 3) {
        mesh.triangles.push_back({filling.corners[i], filling.corners[i + 1], filling.corners[i + 2]});
    }
}

/// Gives equal corners one number and drops triangles that are left with two.
TriangleMesh tidied(const TriangleMesh& mesh) {
    const auto less = [](const Vec3& a, const Vec3& b) {
        return a.x != b.x ? a.x < b.x : a.y != b.y ? a.y < b.y : a.z < b.z;
    };
    std::map<Vec3, Index, decltype(less)> known(less);
    TriangleMesh result;
    for (const TriangleCorners& triangle : mesh.triangles) {
        TriangleCorners corners{};
        for (std::size_t k = 0; k < 3; ++k) {
            const Vec3& at = mesh.vertices_mm[triangle[k]];
            const auto [place, fresh] = known.emplace(at, static_cast<Index>(result.vertices_mm.size()));
            if (fresh) {
                result.vertices_mm.push_back(at);
            }
            corners[k] = place->second;
        }
        if (corners[0] != corners[1] && corners[1] != corners[2] && corners[2] != corners[0]) {
            result.triangles.push_back(corners);
        }
    }
    return result;
}

/// Steps from corner to corner round each outline. An outline's corner has one successor but where two outlines touch.
std::vector<std::vector<Index>> outlines_of(std::unordered_multimap<Index, Index>& next) {
    std::vector<std::vector<Index>> outlines;
    while (!next.empty()) {
        std::vector<Index> outline;
        Index at = next.begin()->first;
        for (auto step = next.find(at); step != next.end(); step = next.find(at)) {
            outline.push_back(at);
            at = step->second;
            next.erase(step);
        }
        if (outline.size() >= 3) {
            outlines.push_back(std::move(outline));
        }
    }
    return outlines;
}

} // namespace

TriangleMesh cut_at(const TriangleMesh& mesh, int axis, double at_mm, bool above) {
    // A corner in the plane counts as above, for both sides alike: so no cut is counted twice or missed.
    std::vector<char> is_above(mesh.vertices_mm.size());
    std::transform(mesh.vertices_mm.begin(), mesh.vertices_mm.end(), is_above.begin(),
                   [&](const Vec3& v) { return static_cast<char>(v[axis] >= at_mm); });
    TriangleMesh result;
    result.vertices_mm = mesh.vertices_mm;
    std::map<std::pair<Index, Index>, Index> cuts;
    const auto cut = [&](Index a, Index b) {
        const auto edge = std::minmax(a, b); // one place whichever triangle asks
        const auto [place, fresh] = cuts.emplace(edge, static_cast<Index>(result.vertices_mm.size()));
        if (fresh) {
            const Vec3& from = mesh.vertices_mm[edge.first];
            const Vec3& to = mesh.vertices_mm[edge.second];
            Vec3 at = glm::mix(from, to, (at_mm - from[axis]) / (to[axis] - from[axis]));
            at[axis] = at_mm;
            result.vertices_mm.push_back(at);
        }
        return place->second;
    };
    std::unordered_multimap<Index, Index> next; // along the outlines, the solid to the left seen from outside
    const auto keeps = [&](Index corner) { return (is_above[corner] != 0) == above; };
    for (const TriangleCorners& triangle : mesh.triangles) {
        const auto kept = std::count_if(triangle.begin(), triangle.end(), keeps);
        if (kept == 3) {
            result.triangles.push_back(triangle);
        }
        if (kept == 0 || kept == 3) {
            continue;
        }
        // Turned so that the corner that stands alone comes first.
        std::size_t lone = 0;
        while (keeps(triangle[lone]) != (kept == 1)) {
            ++lone;
        }
        const Index a = triangle[lone];
        const Index b = triangle[(lone + 1) % 3];
        const Index c = triangle[(lone + 2) % 3];
        const Index ab = cut(a, b);
        const Index ca = cut(c, a);
        if (kept == 1) {
            result.triangles.push_back({a, ab, ca});
            next.emplace(ca, ab); // against the triangle's own way along the cut
        } else {
            result.triangles.push_back({ab, b, c});
            result.triangles.push_back({ab, c, ca});
            next.emplace(ab, ca);
        }
    }
    std::vector<std::vector<Index>> outlines = outlines_of(next);
    if (!outlines.empty()) {
        Vec3 outward{0.0};
        outward[axis] = above ? -1 : 1;
        fill(result, outlines, outward);
    }
    return tidied(result);
}

TriangleMesh cut_to_box(const TriangleMesh& mesh, const Box& box) {
    TriangleMesh piece = mesh;
    for (int axis = 0; axis < 3; ++axis) {
        piece = cut_at(piece, axis, box.low_mm[axis], true);
        piece = cut_at(piece, axis, box.high_mm[axis], false);
    }
    return piece;
}

} // namespace evenclose
