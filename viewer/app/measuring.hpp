// viewer/app/measuring.hpp: the measure as it stands in the window: places that ride with their bodies, and what they give.
//
// A place is kept in its body's own frame, so that a measure from platen to head follows the travel. What is drawn follows
// a magnified tilt; what is told is always the true one.
#pragma once

#include "scene/motion/assembly.hpp"
#include "viewer/app/measurement.hpp"

#include <optional>
#include <vector>

namespace evenclose {

struct App;

struct MeasuredPlace {
    std::optional<std::size_t> body; // into Assembly::bodies; none: it stays where it is
    Vec3 at_mm{0.0};                 // in the body's frame
    Vec3 normal{0.0};                // of the surface there, unit; in the body's frame
};

struct Measuring {
    enum class What { off, points, faces } what = What::off;
    std::vector<MeasuredPlace> places; // two at most
};

/// Where a place stands now, as it is in truth or, `drawn`, as the picture shows it.
struct PlaceNow {
    Vec3 at_mm{0.0}, normal{0.0};
};
[[nodiscard]] PlaceNow place_now(const App& app, const MeasuredPlace& place, bool drawn);
/// The place in the picture taken into its body's frame. Needs: a body of the assembly, or any greater number for none.
[[nodiscard]] MeasuredPlace place_on(const App& app, std::size_t body, const Vec3& at_mm, const Vec3& normal);

/// As soon as there are two places.
[[nodiscard]] std::optional<MeasureWords> measure_words(const App& app);
/// The number itself: mm, or rad where faces lean; for those who read the state.
[[nodiscard]] std::optional<double> measure_value(const App& app);

} // namespace evenclose
