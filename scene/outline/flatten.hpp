// scene/outline/flatten.hpp: arcs and curves as corners on them, no farther from the curve than asked.
#pragma once

#include "scene/outline/drawing.hpp"

#include <functional>
#include <vector>

namespace evenclose {

// Each adds to `into` what comes after the curve's start, its end included. Needs: finite places, a deviation above 0.
// Where a curve would take more than kMostPlaces corners it gets that many.

/// centre + cos t u + sin t v, t from `from` to `to`, rad: an arc of a circle (u and v of one length, square to each
/// other) or of an ellipse. A chord over the angle a leaves its arc by r (1 - cos(a / 2)) at most, r the longer axis.
void add_arc(std::vector<Vec2>& into, Vec2 centre, Vec2 u, Vec2 v, double from, double to, Flattening flat);

/// From the last of `into` to `end`, turning by four times the angle whose tangent `bulge` is, counter-clockwise where
/// it is above 0 (as DXF writes arcs of a polyline).
void add_bulge(std::vector<Vec2>& into, Vec2 end, double bulge, Flattening flat);

/// Bezier curves from the last of `into`. A chord over 1/n of the parameter leaves the curve by max|B''| / (8 n n) at
/// most.
void add_cubic(std::vector<Vec2>& into, Vec2 first_handle, Vec2 second_handle, Vec2 end, Flattening flat);
void add_quadratic(std::vector<Vec2>& into, Vec2 handle, Vec2 end, Flattening flat);

/// Any smooth piece from t = from to t = to, halved until the places at a quarter, half and three quarters lie near
/// their chords.
void add_curve(std::vector<Vec2>& into, const std::function<Vec2(double t)>& place, double from, double to,
               Flattening flat);

} // namespace evenclose
