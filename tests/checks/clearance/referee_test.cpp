// The sweep against referees at sampled poses: FCL's distance and collision, on random bodies with fixed seeds.
//
// For every pose in the envelope the distance must not be less than the lower bound of its span; untilted it must not be
// more than the upper one; contact that FCL sees must lie in a span whose lower bound is 0, and contact that the sweep
// calls certain must be seen (or be a body inside a body). EVENCLOSE_LONG=1 runs the full count.
#include "checks/clearance/sweep.hpp"
#include "tests/checks/clearance/plain_sweep.hpp"
#include "tests/checks/clearance/random_bodies.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <random>

namespace evenclose {
namespace {

using test::random_body;
using test::random_ride;
using test::RandomBody;
using test::span_at;
using test::uniform;

bool long_run() { return std::getenv("EVENCLOSE_LONG") != nullptr; } // NOLINT(concurrency-mt-unsafe)

struct Tally {
    int sweeps = 0, poses = 0, fouls = 0, wide = 0;
    int missed = 0, below = 0, above = 0, not_seen = 0;
};

void hold_against_poses(const RandomBody& still, const RandomBody& moving, const Ride& ride, double length, bool tilted,
                        std::mt19937& random, Tally& tally) {
    const SweptBody first{prepare(still.mesh), still.placement, nullptr};
    const SweptBody second{prepare(moving.mesh), moving.placement, &ride};
    const bool swapped = random() % 2 == 0;
    SweepRequest request;
    request.to = {length};
    request.interest_mm = random() % 3 == 0 ? 5 : 1000;
    request.tightness_mm = random() % 2 == 0 ? 0.05 : 0.3;
    Progress progress;
    const Sweep answer = swapped ? sweep(second, first, request, progress) : sweep(first, second, request, progress);
    ++tally.sweeps;
    tally.wide += answer.tight ? 0 : 1;
    CHECK(answer.spans.front().from == request.from);
    CHECK(answer.spans.back().to == request.to);
    for (std::size_t i = 0; i < answer.spans.size(); ++i) {
        const ClearanceSpan& span = answer.spans[i];
        CHECK(span.lower_mm <= span.upper_mm);
        if (i > 0) {
            CHECK(answer.spans[i - 1].to == span.from);
        }
        if (answer.tight && span.lower_mm > 0 && span.lower_mm < request.interest_mm) {
            CHECK(span.upper_mm - span.lower_mm <= request.tightness_mm * (1 + 1e-9));
        }
    }
    const plain::Shared plain_still = plain::prepare(still.mesh);
    const plain::Shared plain_moving = plain::prepare(moving.mesh);
    std::vector<Travel> looks;
    for (int i = 0; i < 12; ++i) {
        looks.push_back({uniform(random, 0, length)});
    }
    for (const ContactSpan& contact : answer.contacts) {
        looks.push_back({0.5 * (contact.from.mm + contact.to.mm)});
        looks.push_back({contact.from.mm + uniform(random, 0, 1) * (contact.to - contact.from).mm});
        looks.push_back({std::max(0.0, contact.from.mm - 0.02)});
        looks.push_back({std::min(length, contact.to.mm + 0.02)});
    }
    for (const Travel at : looks) {
        const ClearanceSpan& span = span_at(answer, at);
        const SlopeRange range = ride.slope_range(at);
        for (int k = 0; k < (tilted ? 6 : 1); ++k) {
            const bool corner = k < 4;
            const double x = corner ? k % 2 : uniform(random, 0, 1);
            const double y = corner ? k / 2 : uniform(random, 0, 1);
            const Slope slope{range.low.x + x * (range.high.x - range.low.x),
                              range.low.y + y * (range.high.y - range.low.y)};
            const PoseClearance seen = plain::clearance_at({plain_still, still.placement, nullptr},
                                                           {plain_moving, moving.placement, &ride}, at, slope);
            if (seen.contact == Contact::inside && !answer.why_not.empty()) {
                continue; // an open mesh: the sweep says that inside cannot be told, the referee guesses by ray parity
            }
            ++tally.poses;
            CAPTURE(at.mm);
            CAPTURE(slope.x);
            CAPTURE(slope.y);
            CAPTURE(seen.distance_mm);
            if (seen.contact == Contact::foul || seen.contact == Contact::inside) {
                ++tally.fouls;
                if (span.lower_mm > 0) {
                    ++tally.missed;
                    CHECK(span.lower_mm == 0);
                }
            }
            if (seen.distance_mm < span.lower_mm - 1e-7) {
                ++tally.below;
                CHECK(seen.distance_mm >= span.lower_mm - 1e-7);
            }
            if (!tilted && seen.distance_mm > span.upper_mm + 1e-7) {
                ++tally.above;
                CHECK(seen.distance_mm <= span.upper_mm + 1e-7);
            }
            // Gaps in contact shorter than contact_tightness_mm are closed; no body gets 0.1 mm away and back in one.
            if (!tilted && seen.contact == Contact::clear && seen.distance_mm > 0.1) {
                for (const ContactSpan& contact : answer.contacts) {
                    if (contact.from.mm + 1e-6 < at.mm && at.mm < contact.to.mm - 1e-6) {
                        ++tally.not_seen;
                        CHECK(seen.contact != Contact::clear);
                    }
                }
            }
        }
    }
}

void run(int count, bool tilted, unsigned seed) {
    Tally tally;
    for (int trial = 0; trial < count; ++trial) {
        std::mt19937 random(seed + static_cast<unsigned>(trial));
        CAPTURE(trial);
        const RandomBody still = random_body(random);
        RandomBody moving = random_body(random);
        moving.placement.translation_mm.z -= uniform(random, 0, 60);
        double length = 0;
        const Ride ride = random_ride(random, length, tilted);
        hold_against_poses(still, moving, ride, length, tilted, random, tally);
    }
    MESSAGE(tally.sweeps << " sweeps, " << tally.poses << " poses, " << tally.fouls << " in foul; missed "
                         << tally.missed << ", below " << tally.below << ", above " << tally.above << ", not seen "
                         << tally.not_seen << ", wide " << tally.wide);
    CHECK(tally.fouls > 0);
}

TEST_CASE("random bodies along the stroke, held against FCL at poses") { run(long_run() ? 1500 : 60, false, 4711); }

TEST_CASE("random bodies along the stroke and tilted, held against FCL at poses") {
    run(long_run() ? 1000 : 8, true, 90210);
}

} // namespace
} // namespace evenclose
