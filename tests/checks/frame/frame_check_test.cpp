#include "checks/cavity/cavity.hpp"
#include "checks/check_list.hpp"
#include "checks/frame/frame_check.hpp"
#include "checks/frame/mold_bed.hpp"
#include "checks/phrase.hpp"
#include "scene/documents/documents.hpp"
#include "scene/documents/setup_document.hpp"
#include "tests/checks/frame/portal_press.hpp"
#include "tests/places.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

namespace evenclose {

using test::near;
using test::PortalPress;
using test::within;

namespace {

FrameMeasure frame_of(const Setup& setup) {
    const Assembly assembly = assemble(setup);
    return measure_frame(setup, assembly, measure_pressure(setup, assembly));
}

std::vector<Finding> findings_of(const Setup& setup) { return judge(frame_of(setup), setup, assemble(setup)); }

const Finding* with(const std::vector<Finding>& findings, const std::string& words) {
    const auto found = std::find_if(findings.begin(), findings.end(), [&](const Finding& finding) {
        return shown(finding.title, UnitSystem::metric).find(words) != std::string::npos;
    });
    return found == findings.end() ? nullptr : &*found;
}

Setup demo() {
    MeshShelf shelf;
    Loaded<Setup> loaded = read_setup(test::demo("crescent.set-up.json"), shelf);
    REQUIRE(loaded.value);
    return *loaded.value;
}

/// How far a simple beam bends at `at` (from its left support) under point loads, by superposition (Mott, App. 14: P at
/// b from the right: P b x (L^2 - b^2 - x^2) / 6 E I L), without shear.
double beam_sag(double at, double L, double EI, const std::vector<std::pair<double, double>>& loads) {
    double sum = 0;
    for (const auto& [place, P] : loads) {
        const double x = at <= place ? at : L - at;
        const double b = at <= place ? L - place : place;
        sum += P * b * x * (L * L - b * b - x * x) / (6 * EI * L);
    }
    return sum;
}

} // namespace

TEST_CASE("frame: the most stressed part, its stress by hand, and the force at which it yields") {
    PortalPress portal;
    portal.setup.closing_force_N = 40000;
    const FrameMeasure measure = frame_of(portal.made());
    REQUIRE(measure.computed());
    const PartUse& worst = measure.uses.front();
    CHECK((worst.part == "base beam" || worst.part == "head beam"));
    CHECK(worst.by == "yield");
    // REFERENCE 5b: P L / 4 less the corner's moment, at the middle; less P 20 / 4 at the base, whose jacks stand 20 apart.
    const SectionProperties beam = *properties_of(portal.beam);
    const double P = 40000;
    const double L = PortalPress::kSpan_mm;
    const double k = beam.Iu_mm4 / properties_of(portal.post)->Iv_mm4 * PortalPress::kRise_mm / L;
    const double moment = P * L / 4 - P * L / (8 * (1 + k));
    CHECK(within(worst.stress_MPa, moment / beam.modulus_u_mm3(), 0.03));
    CHECK(within(worst.allowed_MPa, 235 / 1.67, 1e-12));     // AISC: yield over 1.67
    CHECK(within(measure.breaks_at_N * worst.use, P, 0.02)); // weights do not grow with the force

    // What was said to break breaks: at that force the use is 1.
    portal.setup.closing_force_N = measure.breaks_at_N;
    CHECK(within(frame_of(portal.made()).uses.front().use, 1, 0.01));
    portal.setup.closing_force_N = 1.2 * measure.breaks_at_N;
    const std::vector<Finding> over = findings_of(portal.made());
    CHECK(over.front().verdict == Verdict::no_go);
    CAPTURE(over.front().remedy);
    CHECK(over.front().remedy.find("a second 80 x 120 x 6 tube beside") != std::string::npos);
    CHECK(over.front().remedy.find("stand clear") != std::string::npos);
}

TEST_CASE("frame: a timber seat crushed across its grain (NDS 3.10.4 with the area factor), and what area would do") {
    // Of our own finding: a 3 in long seat of DF-L No. 2, 625 psi: C_b = (3 + 3/8) / 3 = 1.125 (NDS table 3.10.4: 1.13 at 3 in).
    const double allowed = 625 * 1.125 * kMPaPerPsi;
    PortalPress portal;
    const double half = 38.1;
    portal.press.members[2].section = TubeSection{76.2, 76.2, 4, 0};
    portal.press.members[3].section = TubeSection{76.2, 76.2, 4, 0};
    for (const std::size_t i : {0, 1}) {
        portal.press.members[i].section = TimberSection{100, 120};
        portal.press.members[i].material = "Douglas-fir";
        portal.press.members[i].a_mm.x -= 300;
        portal.press.members[i].b_mm.x += 300;
    }
    // Rods outside hold the beams together, the posts between are pressed by nothing; so turn it round: a head that weighs.
    portal.press.members[2].a_mm.z = portal.press.members[3].a_mm.z = PortalPress::kBase_z_mm + 60;
    portal.press.members[2].b_mm.z = portal.press.members[3].b_mm.z =
        PortalPress::kBase_z_mm + PortalPress::kRise_mm - 60;
    const Setup& setup = portal.made();
    const Joints joints = joints_of(*setup.press);
    PressFrame model = press_frame(setup, joints, {{0, 0.0}, {1, 0.0}}, {});
    // 20 kN down on the head beam above the left post.
    const FrameMember& beam = model.members[1];
    const auto at = std::min_element(beam.at_mm.begin(), beam.at_mm.end(),
                                     [](double a, double b) { return std::abs(a - 300) < std::abs(b - 300); });
    model.jack_actions.push_back(
        {beam.nodes[static_cast<std::size_t>(at - beam.at_mm.begin())], {{0, 0, -20000}, Vec3{0.0}}});
    const StoodFrame stood = stand(std::move(model));
    const std::vector<PartUse> uses = uses_of(*setup.press, joints, stood);
    const auto crushed = std::find_if(uses.begin(), uses.end(), [](const PartUse& use) {
        return use.by.starts_with("crushed") && use.part == "head beam";
    });
    REQUIRE(crushed != uses.end());
    CHECK(crushed->by.find("left post") != std::string::npos);
    CHECK(within(crushed->allowed_MPa, allowed, 1e-9));
    CHECK(within(crushed->stress_MPa, 20000 / (2 * half * 2 * half), 0.05));
}

TEST_CASE(
    "frame: what has no known material, hangs on nothing or is told and does not meet is named, the rest is judged") {
    PortalPress portal;
    portal.setup.closing_force_N = 20000;
    portal.press.members.push_back({"shelf", {2000, 0, 400}, {2500, 0, 400}, TimberSection{40, 40}, 0, "C24"});
    portal.press.members[2].material = "S325";
    portal.press.members[3].material = "";
    portal.press.joints = {{"left post", "head", JointKind::bolted}};
    const std::vector<Finding> findings = findings_of(portal.made());
    REQUIRE(with(findings, "left post is of \"S325\", which is not known") != nullptr);
    CHECK(with(findings, "left post is of")->verdict == Verdict::not_checked);
    CHECK(with(findings, "left post is of")->remedy.find("did you mean") != std::string::npos);
    CHECK(with(findings, "right post has no material") != nullptr);
    CHECK(with(findings, "shelf hangs on nothing") != nullptr);
    CHECK(with(findings, "A joint that nothing meets: left post and head") != nullptr);
    CHECK(with(findings, "bend apart") != nullptr);
    CHECK(with(findings, "on the deck use") != nullptr);
}

TEST_CASE("frame: a head that nothing drawn holds is not checked, and says why") {
    PortalPress portal;
    portal.press.members.erase(portal.press.members.begin() + 1);
    const std::vector<Finding> findings = findings_of(portal.made());
    CHECK(findings.front().verdict == Verdict::not_checked);
    CHECK(findings.front().why.find("Nothing drawn holds the head") == 0);
}

TEST_CASE("frame: a press that is a mechanism is named with where it comes apart, all that can be told still is") {
    PortalPress portal;
    portal.setup.closing_force_N = 20000;
    for (const std::size_t post : {2, 3}) { // from face to face, told to stand on each other only
        portal.press.members[post].a_mm.z = PortalPress::kBase_z_mm + 60;
        portal.press.members[post].b_mm.z = PortalPress::kBase_z_mm + PortalPress::kRise_mm - 60;
    }
    portal.press.joints = {{"left post", "head beam", JointKind::bearing},
                           {"right post", "head beam", JointKind::bearing},
                           {"base beam", "head", JointKind::bolted}};
    portal.press.members[2].material = "";
    const Setup& setup = portal.made();
    const FrameMeasure measure = frame_of(setup);
    CHECK(measure.mechanism());
    CHECK_FALSE(measure.computed());
    const std::vector<Finding> findings = findings_of(setup);
    const Finding* told = with(findings, "The frame is a mechanism: it comes apart");
    REQUIRE(told != nullptr);
    CHECK(told->verdict == Verdict::no_go);
    CHECK(told->title.find("head beam from left post") != std::string::npos);
    CHECK(told->title.find("head beam from right post") != std::string::npos);
    CHECK(told->at_mm);
    CHECK(with(findings, "left post has no material") != nullptr);
    CHECK(with(findings, "A joint that nothing meets: base beam and head") != nullptr);
    CHECK(with(findings, "joints were found") != nullptr);
    CHECK(with(findings, "bend apart") == nullptr); // no number that means nothing
    // The other checks go on: level without the frame's part, cavity, pressure.
    Progress progress;
    const CheckResults results = run_checks(setup, assemble(setup), {{"pressure", "level", "frame"}, 1}, progress);
    CHECK(std::any_of(results.findings.begin(), results.findings.end(),
                      [](const Finding& finding) { return finding.check == "pressure"; }));
    CHECK(std::any_of(results.findings.begin(), results.findings.end(),
                      [](const Finding& finding) { return finding.check == "level"; }));
    // Rods through both, and it stands.
    portal.press.joints = {{"base beam", "head", JointKind::bolted}};
    CHECK(frame_of(portal.made()).computed());
}

TEST_CASE("frame: what if with more force: the limits in turn, each where it is reached, jacks among them") {
    PortalPress portal; // two jacks of 50 kN
    portal.setup.closing_force_N = 20000;
    const FrameMeasure measure = frame_of(portal.made());
    REQUIRE(measure.computed());
    REQUIRE(measure.limits.size() > 3);
    CHECK(std::is_sorted(measure.limits.begin(), measure.limits.end(),
                         [](const ReachedLimit& a, const ReachedLimit& b) { return a.force_N < b.force_N; }));
    const auto jacks = std::find_if(measure.limits.begin(), measure.limits.end(),
                                    [](const ReachedLimit& limit) { return limit.by == "its rated load"; });
    REQUIRE(jacks != measure.limits.end());
    CHECK(within(jacks->force_N, 100000, 0.01)); // less some weight
    // At the force told, that part is at its limit; from whichever force one asks.
    for (const double asked : {20000.0, 35000.0, 80000.0}) {
        CAPTURE(asked);
        portal.setup.closing_force_N = asked;
        const FrameMeasure from = frame_of(portal.made());
        CHECK(within(from.breaks_at_N, measure.breaks_at_N, 0.005));
    }
    portal.setup.closing_force_N = measure.breaks_at_N;
    const FrameMeasure there = frame_of(portal.made());
    CHECK(within(there.uses.front().use, 1, 0.003));
    CHECK(there.uses.front().part == measure.limits.front().what);
    const Finding strength = findings_of(portal.made()).front();
    CHECK(strength.why.find("the limits come in turn: " + measure.limits.front().what) != std::string::npos);
    CHECK(strength.why.find("its rated load") != std::string::npos);
    CHECK(strength.why.find("EN 10025-2") != std::string::npos); // where what is allowed comes from
}

TEST_CASE("frame: a shop's own material is used as it says, and the finding tells its source") {
    PortalPress portal;
    portal.setup.closing_force_N = 40000;
    const FrameMeasure before = frame_of(portal.made());
    Material own = *find_material({}, "S235");
    own.name = "grandfather's steel";
    own.also.clear();
    own.yield = {{1000, 117.5}};
    own.source = "a coupon of our own, pulled";
    portal.press.materials = {own};
    for (Member& member : portal.press.members) {
        member.material = "grandfather's steel";
    }
    const FrameMeasure after = frame_of(portal.made());
    REQUIRE(after.computed());
    CHECK(after.stand_ins.empty());
    CHECK(within(after.uses.front().use, 2 * before.uses.front().use, 1e-9)); // half of 235
    CHECK(findings_of(portal.made()).front().why.find("a coupon of our own, pulled") != std::string::npos);
}

TEST_CASE(
    "frame: a printed half gives by its fill and its walls (Gibson and Ashby, cellular solids), else by a guess") {
    PortalPress portal;
    Mold& mold = portal.mold; // halves of 80 x 80
    mold.lower.material = "PLA";
    CHECK(half_stiffness(mold, mold.lower, {}).E_MPa == kPrintedHalf_MPa);
    CHECK(half_stiffness(mold, mold.lower, {}).from == HalfStiffness::From::nothing);
    CHECK(half_stiffness_told(mold, {}).find("a guess") != std::string::npos);
    mold.print = PrintJob{};
    mold.print->fill = 0.2;
    CHECK(within(half_stiffness(mold, mold.lower, {}).E_MPa, 3000 * 0.04, 1e-12)); // E fill^2
    mold.print->wall_mm = 2;                                                       // 4 x 80 x 2 of 80 x 80 is a tenth
    CHECK(within(half_stiffness(mold, mold.lower, {}).E_MPa, 3000 * (0.1 + 0.9 * 0.04), 1e-12));
    CHECK(half_stiffness_told(mold, {}).find("PLA filled by 20 %") != std::string::npos);
    mold.print->fill = 1;
    CHECK(within(half_stiffness(mold, mold.lower, {}).E_MPa, 3000, 1e-12));
    mold.upper.material = "beech";
    CHECK(half_stiffness(mold, mold.upper, {}).from == HalfStiffness::From::material);
}

TEST_CASE("frame: what costs most is what is weakest, and the remedy that was tried holds when it is built") {
    PortalPress portal;
    portal.setup.closing_force_N = 40000;
    portal.press.head.size_mm = portal.press.platen.size_mm = {700, 200};
    portal.mold.deck_size_mm = Vec2{600, 80};
    PortalPress::half(portal.mold.lower, 0, 50);
    portal.press.platen.thickness_mm = 30; // 30 thick over 600 on two jacks in its middle
    portal.press.head_underside_z_mm -= 0;
    portal.setup.limits.cavity_tolerance_mm = 0.01;
    const FrameMeasure measure = frame_of(portal.made());
    REQUIRE(measure.computed());
    REQUIRE(measure.costs.size() > 2);
    CHECK(measure.costs.front().parts == std::vector<std::string>{"platen"});
    REQUIRE(!measure.stiffer.empty());
    const Remedy& stiffer = measure.stiffer.front();
    CHECK(stiffer.what == "a platen of 40 mm in place of 30 mm");
    CHECK(stiffer.after < stiffer.before);
    portal.press.platen.thickness_mm = 40;
    CHECK(within(frame_of(portal.made()).spread_mm, stiffer.after, 0.02)); // its weight is not the same
}

TEST_CASE("frame: on the demo a stiffer head changes the cavity's middle as the beam formula says, within 10 %") {
    const Setup setup = demo();
    const Assembly assembly = assemble(setup);
    const PressureMeasure pressure = measure_pressure(setup, assembly);
    const Press& press = *setup.press;
    const Joints joints = joints_of(press);
    std::vector<JackForce> forces;
    for (std::size_t i = 0; i < pressure.jacks.size(); ++i) {
        forces.push_back({i, pressure.jacks[i].load_N});
    }
    // Head beams on the cross-heads 1250 apart; the head plate is laid on and bends with them by its own stiffness.
    const double L = 1250;
    const double plate = 210000.0 * 320 * std::pow(40, 3) / 12;
    const double beams = 2 * 210000 * properties_of(press.members[9].section)->Iu_mm4;
    REQUIRE(press.members[9].name == "front head beam");
    struct State {
        double by_frame = 0, by_formula = 0;
        double check_formula = 0; // the middle beyond the ends, as the check looks at it
    };
    const auto state_with = [&](double factor) {
        Stiffening stiffening;
        stiffening.member.assign(press.members.size(), 1.0);
        stiffening.member[9] = stiffening.member[10] = factor;
        const StoodFrame stood = stand(press_frame(setup, joints, forces, stiffening));
        std::vector<std::pair<double, double>> loads;
        for (const FrameContact& contact : stood.model.contacts) {
            if (contact.on == FrameContact::On::deck) {
                loads.emplace_back(contact.at_mm.x + 0.5 * L, -stood.state.spring_forces[contact.spring][0]);
            }
        }
        // The head on its cross-heads bows up, the platen on its jacks 760 apart bows down.
        const double head_EI = factor * beams + plate;
        const double platen_EI = 210000.0 * 320 * std::pow(50, 3) / 12;
        std::vector<std::pair<double, double>> on_platen;
        on_platen.reserve(loads.size());
        for (const auto& [place, P] : loads) {
            on_platen.emplace_back(place - 0.5 * L + 380, P);
        }
        const auto formula = [&](double x) {
            return beam_sag(x + 0.5 * L, L, head_EI, loads) + beam_sag(x + 380, 760, platen_EI, on_platen);
        };
        const auto frame = [&](double x) {
            return stood.model.head.rise_mm(stood.state, {x, 0}) - stood.model.platen.rise_mm(stood.state, {x, 0});
        };
        double middle = 0;
        double ends = 0;
        int in_middle = 0;
        int at_ends = 0;
        for (const auto& [place, P] : loads) {
            const double x = place - 0.5 * L;
            const double share = std::abs(x - pressure.deck.centre_mm.x) / pressure.deck.size_mm.x;
            if (share < 0.05) {
                middle += formula(x);
                ++in_middle;
            } else if (share > 0.45) {
                ends += formula(x);
                ++at_ends;
            }
        }
        return State{frame(0) - 0.5 * (frame(-350) + frame(350)), formula(0) - 0.5 * (formula(-350) + formula(350)),
                     middle / in_middle - ends / at_ends};
    };
    const State one = state_with(1);
    const State two = state_with(2);
    CAPTURE(one.by_frame);
    CAPTURE(one.by_formula);
    CAPTURE(two.by_frame);
    CAPTURE(two.by_formula);
    CHECK(within(one.by_frame, one.by_formula, 0.1));
    CHECK(within(one.by_frame - two.by_frame, one.by_formula - two.by_formula, 0.1));

    // And the check says so: a second pair of head beams, tried.
    const FrameMeasure measure = measure_frame(setup, assembly, pressure);
    const auto beams_too = std::find_if(measure.stiffer.begin(), measure.stiffer.end(), [](const Remedy& remedy) {
        return remedy.what == "a second 60 x 120 x 5 tube beside front head beam and back head beam";
    });
    REQUIRE(beams_too != measure.stiffer.end());
    CAPTURE(measure.middle_mm);
    CAPTURE(beams_too->middle_mm);
    CHECK(within(measure.middle_mm - beams_too->middle_mm, one.check_formula - two.check_formula, 0.1));
    const std::vector<Finding> findings = judge(measure, setup, assembly);
    const Finding* told = with(findings, "head and platen bend apart by");
    REQUIRE(told != nullptr);
    CHECK((told->why + told->remedy)
              .find("A second 60 x 120 x 5 tube beside front head beam and back head beam lowers this") !=
          std::string::npos);
}

TEST_CASE("frame: the bent cavity is the cavity plus the bending, and `check` says so") {
    const Setup setup = demo();
    Progress progress;
    const CheckResults results = run_checks(setup, assemble(setup), {{"cavity", "frame", "level"}, 1}, progress);
    REQUIRE(results.frame != nullptr);
    REQUIRE(results.cavity != nullptr);
    const GapSummary gaps = bent(*results.cavity, lower_bent(*results.frame, setup), upper_bent(*results.frame, setup),
                                 setup.limits.cavity_tolerance_mm);
    // Along the stroke the faces open as head and platen bend apart; the face is nearly level, so along the normal too.
    const double spread = gaps.greatest_mm - gaps.least_mm;
    const double rigid = results.cavity->normal.greatest_mm - results.cavity->normal.least_mm;
    CAPTURE(spread);
    CAPTURE(results.frame->spread_mm);
    CAPTURE(rigid);
    // The frame looks at patches of the deck, whose middles stand half a patch inside its rim.
    CHECK(spread > results.frame->spread_mm - rigid);
    CHECK(spread < 1.12 * results.frame->spread_mm + rigid);
    CHECK(with(results.findings, "Head and platen bent by 26 kN, the cavity is") != nullptr);
    CHECK(with(results.findings, "the frame gives unequally by") != nullptr);
    CHECK(with(results.findings, "head and platen bend apart by") != nullptr);
}

} // namespace evenclose
