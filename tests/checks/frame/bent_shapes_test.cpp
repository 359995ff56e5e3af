#include "checks/frame/bent_shapes.hpp"
#include "tests/checks/frame/portal_press.hpp"
#include "tests/scene/press/closed_mesh.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <cmath>

namespace evenclose {

using test::PortalPress;
using test::within;

TEST_CASE("bent shapes: closed solids of the same volume, not magnified at all they are as drawn, else they follow the "
          "nodes") {
    PortalPress portal;
    portal.setup.closing_force_N = 30000;
    const Setup& setup = portal.made();
    const Assembly assembly = assemble(setup);
    const FrameMeasure measure = measure_frame(setup, assembly, measure_pressure(setup, assembly));
    REQUIRE(measure.computed());
    const BentShapes still = bent_shapes(measure, setup, assembly, 0);
    const BentShapes bent = bent_shapes(measure, setup, assembly, 10);
    std::size_t shapes = 0;
    for (std::size_t i = 0; i < assembly.bodies.size(); ++i) {
        if (bent.mesh[i] == nullptr) {
            continue;
        }
        const Body& body = assembly.bodies[i];
        CAPTURE(body.name);
        ++shapes;
        CHECK(test::closed_and_clean(*still.mesh[i]));
        CHECK(test::closed_and_clean(*bent.mesh[i]));
        const double drawn = signed_volume_mm3(*body.mesh);
        CHECK(within(signed_volume_mm3(*still.mesh[i]), drawn, 1e-9));
        CHECK(within(signed_volume_mm3(*bent.mesh[i]), drawn, 0.01));
        const Vec3 size = bounds_of(*still.mesh[i]).size_mm() - bounds_of(*body.mesh).size_mm();
        const Vec3 place = bounds_of(*still.mesh[i]).centre_mm() - bounds_of(*body.mesh).centre_mm();
        CHECK(std::abs(size.x) + std::abs(size.y) + std::abs(size.z) < 1e-6);
        CHECK(std::abs(place.x) + std::abs(place.y) + std::abs(place.z) < 1e-6);
    }
    CHECK(shapes == 8); // four members, head, platen, two halves
    // The head beam (body 1) bows up: its top rises by ten times what its highest node does.
    double rises = 0;
    for (const std::size_t node : measure.stood.model.members[1].nodes) {
        rises = std::max(rises, measure.stood.state.motions[node].move_mm.z);
    }
    const double top = bounds_of(*bent.mesh[1]).high_mm.z - bounds_of(*assembly.bodies[1].mesh).high_mm.z;
    CHECK(within(top, 10 * rises, 0.02));
    CHECK(bent.use[1] > 0);
}

} // namespace evenclose
