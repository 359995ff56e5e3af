// First contact alone, by heart and against the whole sweep.
#include "checks/clearance/first_contact.hpp"
#include "tests/checks/clearance/random_bodies.hpp"
#include "tests/checks/clearance/shapes.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <random>

namespace evenclose {
namespace {

using test::at;
using test::box_mesh;
using test::near;
using test::random_body;
using test::ready;
using test::sphere_mesh;
using test::straight_up;
using test::straight_up_tilting;

FirstContact run(const SweptBody& first, const SweptBody& second, double to) {
    SweepRequest request;
    request.to = {to};
    Progress progress;
    return first_contact(first, second, request, progress);
}

TEST_CASE("first contact: a box rises to a shelf, or passes it, or stands in it") {
    const Ride up = straight_up(100);
    const SharedClearanceMesh box = ready(box_mesh({0, 0, 0}, {20, 20, 20}));
    const SharedClearanceMesh shelf = ready(box_mesh({10, -50, 60}, {60, 50, 70}));
    const FirstContact seen = run({shelf, {}, nullptr}, {box, {}, &up}, 100);
    CHECK(seen.contact == Contact::touching);
    CHECK(seen.tight);
    CHECK(near(seen.touches_by.mm, 40, 1e-5));
    CHECK(seen.clear_until.mm >= 40 - 0.01);
    CHECK(seen.clear_until.mm <= 40);
    CHECK(near(seen.on_first_mm.z, 60, 1e-5));
    CHECK(near(seen.on_second_mm.z, 60, 1e-5));
    CHECK(near(run({box, {}, &up}, {shelf, {}, nullptr}, 100).touches_by.mm, 40, 1e-5)); // the other way round

    const FirstContact past = run({shelf, {}, nullptr}, {box, at(-10.001, 0, 0), &up}, 100);
    CHECK(past.contact == Contact::clear);
    CHECK(past.clear_until.mm == 100);
    CHECK(run({shelf, {}, nullptr}, {box, {}, &up}, 39.9).contact == Contact::clear);

    const FirstContact within = run({shelf, {}, nullptr}, {ready(box_mesh({20, 0, 62}, {22, 2, 64})), {}, &up}, 100);
    CHECK(within.contact == Contact::inside);
    CHECK(within.clear_until.mm == 0);
    const FirstContact from_start = run({shelf, {}, nullptr}, {box, at(0, 0, 50), &up}, 100);
    CHECK(from_start.contact == Contact::touching);
    CHECK(from_start.touches_by.mm == 0);
}

TEST_CASE("first contact: of two balls of 5000 triangles, as far as the facets") {
    const double radius = 20;
    const SharedClearanceMesh ball = ready(sphere_mesh(radius, 48));
    const Ride up = straight_up(200);
    // Centres pass each other 24 apart sideways: they meet when sqrt(40^2 - 24^2) = 32 apart in height.
    const FirstContact seen = run({ball, at(24, 0, 150), nullptr}, {ball, {}, &up}, 200);
    CHECK(seen.contact == Contact::touching);
    CHECK(seen.touches_by.mm >= 150 - 32 - 0.011);
    CHECK(near(seen.touches_by.mm, 150 - 32, 0.2));
}

TEST_CASE("first contact: over a rest, and with tilt") {
    Ride rests = straight_up(100);
    rests.knots = {{{0}, 0, {}}, {{40}, 30, {}}, {{60}, 30, {}}, {{100}, 90, {}}};
    const SharedClearanceMesh box = ready(box_mesh({0, 0, 0}, {20, 20, 20}));
    const SharedClearanceMesh shelf = ready(box_mesh({10, -50, 60}, {60, 50, 70}));
    CHECK(near(run({shelf, {}, nullptr}, {box, {}, &rests}, 100).touches_by.mm, 60 + 10 / 1.5, 1e-5));

    const SharedClearanceMesh plate = ready(box_mesh({-400, -100, 0}, {400, 100, 20}));
    const SharedClearanceMesh lip = ready(box_mesh({390, -20, 71}, {420, 20, 80}));
    const Ride tilting = straight_up_tilting(100, 0.003, 0);
    const FirstContact tilted = run({lip, {}, nullptr}, {plate, {}, &tilting}, 100);
    const double phi = std::atan(0.003);
    CHECK(tilted.contact == Contact::touching);
    CHECK(near(tilted.touches_by.mm, 71 - (400 * std::sin(phi) + 20 * std::cos(phi)), 0.011));
    CHECK(tilted.clear_until <= tilted.touches_by);
    CHECK(tilted.touches_by.mm - tilted.clear_until.mm <= 0.05);
}

TEST_CASE("first contact: the whole sweep says the same of random bodies") {
    int contacts = 0;
    for (unsigned trial = 0; trial < 150; ++trial) {
        CAPTURE(trial);
        std::mt19937 random(60'606 + trial);
        const auto still = random_body(random);
        auto moving = random_body(random);
        moving.placement.translation_mm.z -= 70;
        const Ride up = straight_up(90);
        const SweptBody a{prepare(still.mesh), still.placement, nullptr};
        const SweptBody b{prepare(moving.mesh), moving.placement, &up};
        SweepRequest request;
        request.to = {90};
        Progress progress;
        const Sweep whole = sweep(a, b, request, progress);
        const FirstContact seen = first_contact(a, b, request, progress);
        if (whole.contacts.empty()) {
            CHECK(seen.contact == Contact::clear);
            CHECK(seen.clear_until.mm == 90);
        } else if (whole.contact == Contact::inside || !whole.why_not.empty()) {
            CHECK(seen.clear_until.mm <= whole.contacts.front().from.mm + 0.011);
        } else {
            ++contacts;
            CHECK(seen.contact == Contact::touching);
            CHECK(near(seen.touches_by.mm, whole.contacts.front().from.mm, 0.02));
            CHECK(seen.clear_until.mm <= whole.contacts.front().from.mm + 1e-3);
        }
    }
    CHECK(contacts > 30);
}

} // namespace
} // namespace evenclose
