// scene/mesh/polygon.hpp: cuts a simple polygon, maybe with one hole, into triangles.
//
// Ear clipping (G. H. Meisters, "Polygons have ears", American Mathematical Monthly 82, 1975); a hole is first joined to
// the outline by a bridge from a corner that sees one of the hole's (D. Eberly, "Triangulation by ear clipping", 2002).
// Every corner is used, those in line with their neighbours too, so that walls raised on the edges meet it corner to
// corner. Cubic in the worst case: meant for sections of some hundred corners.
#pragma once

#include "scene/mesh/shapes.hpp"
#include "scene/mesh/triangle_mesh.hpp"

#include <vector>

namespace evenclose {

struct CutPolygon {
    std::vector<Vec2> corners_mm; // outline counter-clockwise, then the hole clockwise; equal neighbours dropped
    std::size_t outline_size = 0; // how many of them are the outline
    std::vector<TriangleCorners> triangles; // counter-clockwise
};

/// Faults: std::invalid_argument: fewer than three corners, not finite, crosses or touches itself, hole not inside, corners
/// farther apart or closer together than scene/mesh/predicates.hpp holds for.
[[nodiscard]] CutPolygon cut_into_triangles(const Polygon& polygon);

} // namespace evenclose
