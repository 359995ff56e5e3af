#include "scene/jacks/scissor.hpp"

#include <cmath>

namespace evenclose {
namespace {

/// The other leg of a right triangle; better near its ends than the difference of squares.
double leg(double hypotenuse, double other) { return std::sqrt((hypotenuse - other) * (hypotenuse + other)); }

double closing_a_turn_mm(const RhombusJack& jack) { return jack.both_ends_threaded ? 2 * jack.lead_mm : jack.lead_mm; }

} // namespace

double height_at_span_mm(const RhombusJack& jack, double span_mm) { return leg(2 * jack.arm_mm, span_mm); }
double span_at_height_mm(const RhombusJack& jack, double height_mm) { return leg(2 * jack.arm_mm, height_mm); }

double span_after_mm(const RhombusJack& jack, double turns) {
    return jack.closed_span_mm - turns * closing_a_turn_mm(jack);
}

double height_after_mm(const RhombusJack& jack, double turns) {
    return height_at_span_mm(jack, span_after_mm(jack, turns));
}

double screw_pull_a_load(const RhombusJack& jack, double span_mm) { return span_mm / height_at_span_mm(jack, span_mm); }

double rise_a_turn_mm(const RhombusJack& jack, double span_mm) {
    return closing_a_turn_mm(jack) * screw_pull_a_load(jack, span_mm);
}

double height_at_base_mm(const StageLift& lift, double base_mm) { return lift.stages * leg(lift.arm_mm, base_mm); }
double base_at_height_mm(const StageLift& lift, double height_mm) { return leg(lift.arm_mm, height_mm / lift.stages); }
double base_after_mm(const StageLift& lift, double turns) { return lift.closed_base_mm - turns * lift.lead_mm; }

double base_pull_a_load(const StageLift& lift, double base_mm) {
    return lift.stages * base_mm / leg(lift.arm_mm, base_mm);
}

double rise_a_turn_mm(const StageLift& lift, double base_mm) { return lift.lead_mm * base_pull_a_load(lift, base_mm); }

} // namespace evenclose
