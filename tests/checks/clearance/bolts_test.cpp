// Random bolts beside and through the way of a rising plate: every contact told to 0.01 mm of truth.
//
// A bolt is a prism, the plate a box, both convex: level, the truth is in closed form (convex_lift.hpp). Over a tilt
// envelope it lies in a bracket. From above: the closed form at any slope of the envelope. From below: all slopes of a
// part of it keep the plate within the same plate at the middle slope, grown on all sides by as far as any of its points
// can stray. Parts are halved where the bracket is widest, until it is 0.002 mm wide.
#include "checks/clearance/first_contact.hpp"
#include "checks/clearance/sweep.hpp"
#include "tests/checks/clearance/convex_lift.hpp"
#include "tests/checks/clearance/shapes.hpp"

#include <doctest/doctest.h>
#include <glm/geometric.hpp>
#include <glm/gtc/quaternion.hpp>
#define GLM_ENABLE_EXPERIMENTAL
#include <glm/gtx/quaternion.hpp>

#include <cmath>
#include <cstdlib>
#include <queue>
#include <random>

namespace evenclose {
namespace {

using test::ConvexBody;
using test::Lifts;

constexpr double kTravel_mm = 200;
constexpr double kBracket_mm = 0.002;
constexpr int kMostParts = 600;

bool long_run() { return std::getenv("EVENCLOSE_LONG") != nullptr; } // NOLINT(concurrency-mt-unsafe)

struct Plate {
    Vec3 half_mm;
    Pose placement;
    Vec3 pivot_mm;
    SlopeRange slopes;

    [[nodiscard]] TriangleMesh mesh(double grown_mm = 0) const {
        return test::box_mesh(-half_mm - grown_mm, half_mm + grown_mm);
    }
    [[nodiscard]] ConvexBody at(Slope slope, double grown_mm) const {
        return test::convex_body(mesh(grown_mm), pose_at(ride(), placement, {0}, slope));
    }
    [[nodiscard]] Ride ride() const { return {pivot_mm, {{{0}, 0, slopes}, {{kTravel_mm}, kTravel_mm, slopes}}}; }
    [[nodiscard]] double reach_mm() const {
        return glm::length(placement.translation_mm - pivot_mm) + glm::length(half_mm);
    }
};

struct Bracket {
    double low, high; // of a lift; both infinite where there is no contact
    [[nodiscard]] bool open() const { return high - low > kBracket_mm || (std::isinf(high) && !std::isinf(low)); }
};

/// The least first contact over the envelope, or (`last`) the greatest last contact, its sign turned.
Bracket over_envelope(const Plate& plate, const ConvexBody& bolt, bool last) {
    struct Part {
        SlopeRange range;
        double bound; // no contact before this
        bool operator<(const Part& other) const { return bound > other.bound; }
    };
    const auto end_of = [last](const Lifts& lifts) { return last ? -lifts.last_mm : lifts.first_mm; };
    const auto corner_lifts = [&](Slope slope) { return end_of(test::lifts_in_contact(bolt, plate.at(slope, 0))); };
    const auto part_of = [&](const SlopeRange& range) {
        // Two slopes are no farther apart in angle than in slope; twists of second order are within the tenth more.
        const double stray =
            1.1 * plate.reach_mm() * std::hypot(0.5 * (range.high.x - range.low.x), 0.5 * (range.high.y - range.low.y));
        return Part{range, end_of(test::lifts_in_contact(bolt, plate.at(range.middle(), stray)))};
    };
    double best = corner_lifts(plate.slopes.middle());
    for (const Slope corner : {plate.slopes.low, plate.slopes.high, Slope{plate.slopes.low.x, plate.slopes.high.y},
                               Slope{plate.slopes.high.x, plate.slopes.low.y}}) {
        best = std::min(best, corner_lifts(corner));
    }
    std::priority_queue<Part> parts;
    parts.push(part_of(plate.slopes));
    for (int i = 0; i < kMostParts && best - parts.top().bound > kBracket_mm; ++i) {
        const SlopeRange r = parts.top().range;
        parts.pop();
        SlopeRange halves[2] = {r, r};
        const Slope middle = r.middle();
        if (r.high.x - r.low.x > r.high.y - r.low.y) {
            halves[0].high.x = halves[1].low.x = middle.x;
        } else {
            halves[0].high.y = halves[1].low.y = middle.y;
        }
        for (const SlopeRange& half : halves) {
            parts.push(part_of(half));
            best = std::min(best, corner_lifts(half.middle()));
        }
    }
    return {std::min(best, parts.top().bound), best};
}

struct Tally {
    int bolts = 0, in_contact = 0, missed = 0, false_alarms = 0, early = 0, late = 0, parted = 0, untold = 0, wide = 0;
};

void run(int count, bool tilted) {
    Tally tally;
    for (int trial = 0; trial < count; ++trial) {
        std::mt19937 random(31'337 + static_cast<unsigned>(trial));
        const auto uniform = [&random](double from, double to) {
            return from + (to - from) * std::uniform_real_distribution<double>(0, 1)(random);
        };
        Plate plate;
        plate.half_mm = {uniform(20, 120), uniform(15, 60), uniform(2, 15)};
        plate.placement = {glm::mat3_cast(glm::angleAxis(uniform(-3, 3), Vec3{0, 0, 1})),
                           {uniform(-20, 20), uniform(-20, 20), uniform(-5, 5)}};
        plate.pivot_mm = {uniform(-30, 30), uniform(-30, 30), uniform(-20, 20)};
        if (tilted) {
            plate.slopes = {{-uniform(0, 0.004), -uniform(0, 0.004)}, {uniform(0, 0.004), uniform(0, 0.004)}};
        }
        const TriangleMesh bolt =
            test::cylinder_mesh(uniform(1.5, 8), uniform(8, 60), 6 + static_cast<std::uint32_t>(random() % 9));
        Vec3 along{uniform(-1, 1), uniform(-1, 1), uniform(-1, 1)};
        if (trial % 5 == 0) { // square to the press, as most are
            along = trial % 2 == 0 ? Vec3{1, 0, 0} : Vec3{0, 1, 0};
        }
        const double off = 1.2;
        const Pose bolt_at{glm::mat3_cast(glm::rotation(Vec3{0, 0, 1}, glm::normalize(along))),
                           plate.placement.apply({uniform(-off, off) * plate.half_mm.x,
                                                  uniform(-off, off) * plate.half_mm.y, uniform(60, 120)})};
        const ConvexBody still = test::convex_body(bolt, bolt_at);
        Bracket first{};
        Bracket last{};
        if (tilted) {
            first = over_envelope(plate, still, false);
            last = over_envelope(plate, still, true);
        } else {
            const Lifts lifts = test::lifts_in_contact(still, plate.at({}, 0));
            first = {lifts.first_mm, lifts.first_mm};
            last = {-lifts.last_mm, -lifts.last_mm};
        }
        const Ride ride = plate.ride();
        const SweptBody a{test::ready(bolt), bolt_at, nullptr};
        const SweptBody b{test::ready(plate.mesh()), plate.placement, &ride};
        SweepRequest request;
        request.to = {kTravel_mm};
        Progress progress;
        const Sweep told = trial % 2 == 0 ? sweep(a, b, request, progress) : sweep(b, a, request, progress);
        ++tally.bolts;
        CAPTURE(trial);
        CAPTURE(first.low);
        CAPTURE(first.high);
        CAPTURE(last.low);
        CAPTURE(last.high);
        tally.wide += told.tight ? 0 : 1;
        const FirstContact met =
            trial % 2 == 0 ? first_contact(a, b, request, progress) : first_contact(b, a, request, progress);
        if (std::isinf(first.low)) {
            CHECK(met.contact == Contact::clear);
            CHECK(met.clear_until == request.to);
            tally.false_alarms += told.contact == Contact::clear ? 0 : 1;
            CHECK(told.contact == Contact::clear);
            CHECK(told.contacts.empty());
            continue;
        }
        if (std::isinf(first.high) || first.open() || last.open()) {
            ++tally.untold; // grazes, or a wall so steep that the bracket does not close
        }
        if (std::isinf(first.high)) {
            continue;
        }
        ++tally.in_contact;
        tally.missed += told.contact == Contact::clear || told.contacts.empty() ? 1 : 0;
        CHECK(told.contact != Contact::clear);
        if (-last.high - first.high > 0.1) {
            CHECK((told.contact == Contact::foul || told.contact == Contact::inside));
        }
        REQUIRE(!told.contacts.empty());
        if (told.tight) {
            CHECK(told.contacts.size() == 1);
            tally.parted += told.contacts.size() == 1 ? 0 : 1;
        }
        const double tightness = request.contact_tightness_mm + 1e-6;
        CHECK(met.contact != Contact::clear);
        CHECK(met.clear_until.mm <= first.high + 1e-6);
        CHECK(met.touches_by.mm >= first.low - 1e-6);
        if (met.tight) {
            CHECK(met.clear_until.mm >= first.low - tightness);
            CHECK(met.touches_by.mm <= first.high + tightness);
        }
        const double from = told.contacts.front().from.mm;
        const double to = told.contacts.back().to.mm;
        CHECK(from >= first.low - tightness);
        CHECK(to <= -last.low + tightness);
        if (told.tight) {
            CHECK(from <= first.high + tightness);
            CHECK(to >= -last.high - tightness);
        }
        tally.early += from < first.low - tightness || to > -last.low + tightness ? 1 : 0;
        tally.late += from > first.high + tightness || to < -last.high - tightness ? 1 : 0;
    }
    MESSAGE(tally.bolts << " bolts, " << tally.in_contact << " in contact; missed " << tally.missed << ", false alarms "
                        << tally.false_alarms << ", told too early or long " << tally.early << ", too late or short "
                        << tally.late << ", in more than one piece " << tally.parted << ", truth open in "
                        << tally.untold << ", not told as tight as asked " << tally.wide);
    CHECK(tally.in_contact > count / 2);
    CHECK(tally.in_contact < count);
    CHECK(tally.wide <= count / 50);
}

TEST_CASE("random bolts in the way of a level plate: contact to 0.01 mm of the closed form") {
    run(long_run() ? 20'000 : 200, false);
}

TEST_CASE("random bolts in the way of a plate over its tilt envelope: contact to 0.01 mm of an exact bracket") {
    run(long_run() ? 2'000 : 24, true);
}

} // namespace
} // namespace evenclose
