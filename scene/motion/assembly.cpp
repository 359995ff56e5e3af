#include "scene/motion/assembly.hpp"

#include "scene/motion/level.hpp"
#include "scene/press/fittings_solid.hpp"
#include "scene/press/member_solid.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>
#include <stdexcept>

namespace evenclose {
namespace {

constexpr std::size_t kStill = 0; // into Assembly::rides
constexpr std::size_t kPlaten = 1;

/// Names bodies so that no two are alike: the second "post" becomes "post (2)".
class Names {
public:
    std::string unique(const std::string& wanted) {
        std::string name = wanted;
        for (int n = 2; !taken_.insert(name).second; ++n) {
            name = fmt::format("{} ({})", wanted, n);
        }
        return name;
    }

private:
    std::set<std::string> taken_;
};

/// "jack left" for a jack called "left"; "left jack" stays; "jack 2" for the second if it has no name.
std::string called(const std::string& kind, const std::string& name, std::size_t index) {
    if (name.empty()) {
        return fmt::format("{} {}", kind, index + 1);
    }
    std::string lower = name;
    std::transform(lower.begin(), lower.end(), lower.begin(),
                   [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
    return lower.find(kind) == std::string::npos ? fmt::format("{} {}", kind, name) : name;
}

SharedMesh shared(TriangleMesh mesh) { return std::make_shared<const TriangleMesh>(std::move(mesh)); }

/// What the jacks do to the platen: where its underside stands at travel 0, and how it rides.
struct Lifting {
    double underside_z_mm = 0; // at the jacks' centroid, which is the pivot
    double mean_rate = 0;
    Travel end_of_stroke;
    Ride platen;
    std::vector<Ride> screws;
};

Travel end_of_stroke_of(const std::vector<ScrewJack>& jacks) {
    double end = std::numeric_limits<double>::infinity();
    for (const ScrewJack& jack : jacks) {
        end = std::min(end, (jack.stroke_mm - jack.parked_mm) / jack.rate);
    }
    return {end};
}

Lifting lifting_of(const std::vector<ScrewJack>& jacks) {
    Lifting lifting;
    lifting.end_of_stroke = end_of_stroke_of(jacks);
    const LevelPlane open = plane_through(head_heights(jacks, {0}));
    lifting.underside_z_mm = open.height_at_centroid_mm;
    for (const ScrewJack& jack : jacks) {
        lifting.mean_rate += jack.rate / static_cast<double>(jacks.size());
    }

    // Every height is linear in travel, and so are the slopes and how far they may be off: two knots say all.
    std::vector<Travel> knots{{0}};
    if (lifting.end_of_stroke > Travel{0}) {
        knots.push_back(lifting.end_of_stroke);
    }
    lifting.platen.pivot_mm = {open.centroid_mm, open.height_at_centroid_mm};
    for (const Travel at : knots) {
        lifting.platen.knots.push_back({at, lifting.mean_rate * at.mm, slope_range_of(jacks, at)});
    }
    for (const ScrewJack& jack : jacks) {
        Ride screw;
        screw.pivot_mm = jack.foot_mm;
        for (const Travel at : knots) {
            screw.knots.push_back({at, jack.rate * at.mm, {}});
        }
        lifting.screws.push_back(std::move(screw));
    }
    return lifting;
}

/// Whether the post stands in the platen's plate, which then is bored for it and its sleeve. A platen drawn as a mesh
/// has its bores drawn.
bool stands_in(const Guide& guide, const Platen& platen) {
    if (platen.mesh != nullptr) {
        return false;
    }
    const Vec2 from_middle = guide.at_mm - platen.centre_mm;
    const Vec2 outside{std::max(0.0, std::abs(from_middle.x) - 0.5 * platen.size_mm.x),
                       std::max(0.0, std::abs(from_middle.y) - 0.5 * platen.size_mm.y)};
    return std::hypot(outside.x, outside.y) < 0.5 * guide.post_diameter_mm;
}

class Assembler {
public:
    explicit Assembler(const Setup& setup) : setup_(setup), press_(*setup.press), lifting_(lifting_of(press_.jacks)) {}

    Assembly take() {
        face_z_mm_ = lifting_.underside_z_mm + press_.platen.thickness_mm;
        result_.daylight_mm = press_.head_underside_z_mm - face_z_mm_;
        result_.end_of_stroke = lifting_.end_of_stroke;
        result_.rides = {Ride{}, lifting_.platen};
        add_members();
        add_head_and_platen();
        add_jacks();
        add_guides();
        if (!setup_.openings.empty()) {
            add_mold(setup_.openings.front());
        }
        result_.closed = {(result_.daylight_mm - result_.shut_height_mm) / lifting_.mean_rate};
        result_.last = std::max(Travel{0}, std::min(result_.closed, result_.end_of_stroke));
        return std::move(result_);
    }

private:
    std::size_t add(Body body) {
        body.name = names_.unique(body.name);
        result_.bodies.push_back(std::move(body));
        return result_.bodies.size() - 1;
    }
    void by_design(std::size_t a, std::size_t b) { result_.by_design.push_back({std::min(a, b), std::max(a, b)}); }

    void add_members() {
        for (std::size_t i = 0; i < press_.members.size(); ++i) {
            const Member& member = press_.members[i];
            const std::string name = member.name.empty() ? fmt::format("member {}", i + 1) : member.name;
            add({name, Part::member, shared(solid_of(member)), {}, kStill, member.material});
        }
    }

    void add_head_and_platen() {
        // A mesh has its origin in the middle of its working face: the head's underside, the platen's top.
        const Platen& head = press_.head;
        if (head.mesh != nullptr) {
            const Vec3 face{head.centre_mm, press_.head_underside_z_mm};
            head_ = add({"head", Part::head, head.mesh, {Mat3{1.0}, face}, kStill, head.material});
        } else {
            head_ = add(
                {"head", Part::head, shared(plate_solid(head, press_.head_underside_z_mm)), {}, kStill, head.material});
        }
        const Platen& platen = press_.platen;
        if (platen.mesh != nullptr) {
            const Vec3 face{platen.centre_mm, face_z_mm_};
            platen_ = add({"platen", Part::platen, platen.mesh, {Mat3{1.0}, face}, kPlaten, platen.material});
        } else {
            platen_ = add({"platen",
                           Part::platen,
                           shared(plate_solid(platen, lifting_.underside_z_mm)),
                           {},
                           kPlaten,
                           platen.material});
        }
    }

    void add_jacks() {
        for (std::size_t i = 0; i < press_.jacks.size(); ++i) {
            const ScrewJack& jack = press_.jacks[i];
            const std::string name = called("jack", jack.name, i);
            result_.rides.push_back(lifting_.screws[i]);
            const std::size_t ride = result_.rides.size() - 1;
            const std::size_t body =
                add({name + " body", Part::jack_body, shared(jack_body_solid(jack)), {}, kStill, ""});
            const std::size_t screw =
                add({name + " screw", Part::jack_screw, shared(jack_screw_solid(jack)), {}, ride, ""});
            by_design(body, screw);
            by_design(platen_, screw);
        }
    }

    void add_guides() {
        for (std::size_t i = 0; i < press_.guides.size(); ++i) {
            const Guide& guide = press_.guides[i];
            const std::string name = called("guide", guide.name, i);
            const std::size_t post =
                add({name + " post", Part::guide_post, shared(guide_post_solid(guide)), {}, kStill, ""});
            const std::size_t sleeve = add({name + " sleeve",
                                            Part::guide_sleeve,
                                            shared(guide_sleeve_solid(guide, face_z_mm_)),
                                            {},
                                            kPlaten,
                                            ""});
            by_design(post, sleeve);
            by_design(platen_, sleeve);
            if (stands_in(guide, press_.platen)) {
                by_design(platen_, post);
            }
        }
    }

    /// Lower half on the platen's face, upper half under the head, both over the same spot and turned alike: they meet at
    /// `closed` as they are drawn.
    void add_mold(const Opening& opening) {
        const Mold& mold = *opening.mold;
        result_.shut_height_mm = mold.closed_shut_height_mm();
        const Vec2 spot = press_.platen.centre_mm + opening.at_mm;
        const Mat3 turn = glm::mat3_cast(glm::angleAxis(opening.turn_rad, Vec3{0, 0, 1}));
        const auto add_half = [&](const MoldHalf& half, const char* which, Part part, double seat_to_z_mm,
                                  std::size_t ride) {
            const std::string name = fmt::format("{} {} half", mold.name.empty() ? "mold" : mold.name, which);
            return add({name,
                        part,
                        half.mesh,
                        {turn, Vec3{spot, seat_to_z_mm}},
                        ride,
                        half.material,
                        std::holds_alternative<MeshHalf>(half.shape)});
        };
        const double lower_seat_z = bounds_of(*mold.lower.mesh).low_mm.z;
        const double upper_seat_z = bounds_of(*mold.upper.mesh).high_mm.z;
        const std::size_t lower = add_half(mold.lower, "lower", Part::mold_lower, face_z_mm_ - lower_seat_z, kPlaten);
        const std::size_t upper =
            add_half(mold.upper, "upper", Part::mold_upper, press_.head_underside_z_mm - upper_seat_z, kStill);
        by_design(platen_, lower);
        by_design(head_, upper);
    }

    const Setup& setup_;
    const Press& press_;
    Lifting lifting_;
    double face_z_mm_ = 0; // the platen's working face at travel 0
    Names names_;
    Assembly result_;
    std::size_t head_ = 0, platen_ = 0;
};

void need_whole(const Setup& setup) {
    if (setup.press == nullptr) {
        throw std::invalid_argument("set-up: its press was not read");
    }
    if (setup.press->jacks.size() < 2) {
        throw std::invalid_argument("press: two jacks or more must lift the platen");
    }
    for (const ScrewJack& jack : setup.press->jacks) {
        if (!(jack.rate > 0)) {
            throw std::invalid_argument(fmt::format("\"{}\": the rate must be above 0", jack.name));
        }
        const double all = jack.foot_mm.x + jack.foot_mm.y + jack.foot_mm.z + jack.closed_height_mm + jack.parked_mm +
                           jack.stroke_mm + jack.rate + jack.rate_tolerance;
        if (!std::isfinite(all)) {
            throw std::invalid_argument(fmt::format("\"{}\": a length or a rate is not finite", jack.name));
        }
    }
    if (setup.openings.size() > 1) {
        throw std::invalid_argument("set-up: one opening is all that can be assembled");
    }
    for (const Opening& opening : setup.openings) {
        if (opening.mold == nullptr || opening.mold->lower.mesh == nullptr || opening.mold->upper.mesh == nullptr) {
            throw std::invalid_argument("set-up: a mold was not read");
        }
    }
}

} // namespace

bool Assembly::may_touch(std::size_t a, std::size_t b) const {
    return std::any_of(by_design.begin(), by_design.end(), [&](const BodyPair& pair) {
        return pair.first == std::min(a, b) && pair.second == std::max(a, b);
    });
}

std::vector<BodyPair> Assembly::moving_pairs() const {
    std::vector<BodyPair> pairs;
    for (std::size_t a = 0; a < bodies.size(); ++a) {
        for (std::size_t b = a + 1; b < bodies.size(); ++b) {
            if (bodies[a].ride != bodies[b].ride && !may_touch(a, b)) {
                pairs.push_back({a, b});
            }
        }
    }
    return pairs;
}

Assembly assemble(const Setup& setup) {
    need_whole(setup);
    return Assembler(setup).take();
}

} // namespace evenclose
