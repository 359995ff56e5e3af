#include "scene/outline/flatten.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace evenclose {
namespace {

std::size_t steps(double wanted) {
    return static_cast<std::size_t>(std::clamp(std::ceil(wanted * (1 - 1e-9)), 1.0, static_cast<double>(kMostPlaces)));
}

template <class Place> void add_steps(std::vector<Vec2>& into, std::size_t count, Vec2 end, Place&& place) {
    for (std::size_t i = 1; i < count && into.size() < kMostPlaces; ++i) {
        into.push_back(place(static_cast<double>(i) / static_cast<double>(count)));
    }
    into.push_back(end);
}

// Deep enough for 2^14 corners a piece; a piece that still turns there is no curve but noise.
constexpr int kDeepest = 14;

void halve(std::vector<Vec2>& into, const std::function<Vec2(double)>& place, double from, Vec2 first, double to,
           Vec2 last, double deviation, int depth) {
    const double middle = 0.5 * (from + to);
    const Vec2 half = place(middle);
    const Vec2 chord = last - first;
    const auto off = [&](Vec2 at) {
        const double squared = glm::dot(chord, chord);
        const double along = squared > 0 ? std::clamp(glm::dot(at - first, chord) / squared, 0.0, 1.0) : 0.0;
        return glm::length(at - first - along * chord);
    };
    const bool flat = off(half) <= deviation && off(place(0.5 * (from + middle))) <= deviation &&
                      off(place(0.5 * (middle + to))) <= deviation;
    if (flat || depth == kDeepest || into.size() >= kMostPlaces) {
        into.push_back(last);
        return;
    }
    halve(into, place, from, first, middle, half, deviation, depth + 1);
    halve(into, place, middle, half, to, last, deviation, depth + 1);
}

} // namespace

void add_arc(std::vector<Vec2>& into, Vec2 centre, Vec2 u, Vec2 v, double from, double to, Flattening flat) {
    const double radius = std::max(glm::length(u), glm::length(v));
    const double cosine = std::clamp(1 - flat.deviation / std::max(radius, flat.deviation), 0.0, 1.0);
    const double angle = std::max(2 * std::acos(cosine), 1e-9);
    // Quarters are cut alike, a corner at each end of them: what is round keeps its length and width.
    const double quarters = std::max(1.0, std::abs(to - from) / (0.5 * std::numbers::pi));
    const std::size_t count = steps(std::abs(to - from) / quarters / angle) * steps(quarters);
    const auto place = [&](double t) { return centre + std::cos(t) * u + std::sin(t) * v; };
    add_steps(into, count, place(to), [&](double share) { return place(from + share * (to - from)); });
}

void add_bulge(std::vector<Vec2>& into, Vec2 end, double bulge, Flattening flat) {
    const Vec2 start = into.back();
    const Vec2 chord = end - start;
    const double length = glm::length(chord);
    // What rises less than a thousandth of the deviation is straight, and its centre is too far to be computed.
    if (length == 0 || std::abs(bulge) * length < 1e-3 * flat.deviation) {
        into.push_back(end);
        return;
    }
    // From the chord's middle to the centre: l (1 - b^2) / (4 b), to the left of the chord.
    const Vec2 left{-chord.y, chord.x};
    const Vec2 centre = 0.5 * (start + end) + left * ((1 - bulge * bulge) / (4 * bulge));
    const Vec2 u = start - centre;
    add_arc(into, centre, u, {-u.y, u.x}, 0, 4 * std::atan(bulge), flat);
    into.back() = end; // to the last digit
}

void add_cubic(std::vector<Vec2>& into, Vec2 first_handle, Vec2 second_handle, Vec2 end, Flattening flat) {
    const Vec2 a = into.back();
    const double bend = 6 * std::max(glm::length(a - 2.0 * first_handle + second_handle),
                                     glm::length(first_handle - 2.0 * second_handle + end));
    add_steps(into, steps(std::sqrt(bend / (8 * flat.deviation))), end, [&](double t) {
        const double s = 1 - t;
        return s * s * s * a + 3 * s * s * t * first_handle + 3 * s * t * t * second_handle + t * t * t * end;
    });
}

void add_quadratic(std::vector<Vec2>& into, Vec2 handle, Vec2 end, Flattening flat) {
    const Vec2 a = into.back();
    const double bend = 2 * glm::length(a - 2.0 * handle + end);
    add_steps(into, steps(std::sqrt(bend / (8 * flat.deviation))), end, [&](double t) {
        const double s = 1 - t;
        return s * s * a + 2 * s * t * handle + t * t * end;
    });
}

void add_curve(std::vector<Vec2>& into, const std::function<Vec2(double t)>& place, double from, double to,
               Flattening flat) {
    halve(into, place, from, place(from), to, place(to), flat.deviation, 0);
}

} // namespace evenclose
