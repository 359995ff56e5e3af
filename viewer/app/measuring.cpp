#include "viewer/app/measuring.hpp"

#include "viewer/app/app.hpp"
#include "viewer/render/frame_of.hpp"

namespace evenclose {
namespace {

Pose pose_now(const App& app, std::size_t body, bool drawn) {
    const bool magnified = drawn && !app.loading_in;
    return pose_in_picture(*app.assembly, app.assembly->bodies[body], app.travel, shown_slope(app).slope,
                           magnified ? app.tilt_magnified : 1.0);
}

FacePlane plane_of(const PlaceNow& place) { return {place.at_mm, place.normal}; }

} // namespace

PlaceNow place_now(const App& app, const MeasuredPlace& place, bool drawn) {
    if (!place.body || !app.assembly || *place.body >= app.assembly->bodies.size()) {
        return {place.at_mm, place.normal};
    }
    const Pose pose = pose_now(app, *place.body, drawn);
    return {pose.apply(place.at_mm), pose.turn(place.normal)};
}

MeasuredPlace place_on(const App& app, std::size_t body, const Vec3& at_mm, const Vec3& normal) {
    if (!app.assembly || body >= app.assembly->bodies.size()) {
        return {std::nullopt, at_mm, normal};
    }
    const Pose back = inverse(pose_now(app, body, true));
    return {body, back.apply(at_mm), back.turn(normal)};
}

std::optional<MeasureWords> measure_words(const App& app) {
    const Measuring& measuring = app.closely.measuring;
    if (measuring.places.size() < 2) {
        return std::nullopt;
    }
    const PlaceNow first = place_now(app, measuring.places[0], false);
    const PlaceNow second = place_now(app, measuring.places[1], false);
    return measuring.what == Measuring::What::points
               ? words_of(measure_points(first.at_mm, second.at_mm), app.units)
               : words_of(measure_faces(plane_of(first), plane_of(second)), app.units);
}

std::optional<double> measure_value(const App& app) {
    const Measuring& measuring = app.closely.measuring;
    if (measuring.places.size() < 2) {
        return std::nullopt;
    }
    const PlaceNow first = place_now(app, measuring.places[0], false);
    const PlaceNow second = place_now(app, measuring.places[1], false);
    if (measuring.what == Measuring::What::points) {
        return measure_points(first.at_mm, second.at_mm).distance_mm;
    }
    const FacesMeasured faces = measure_faces(plane_of(first), plane_of(second));
    return faces.distance_mm ? *faces.distance_mm : faces.leaning_rad;
}

} // namespace evenclose
