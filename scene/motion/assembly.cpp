#include "scene/motion/assembly.hpp"

#include "scene/motion/lifting.hpp"
#include "scene/press/fittings_solid.hpp"
#include "scene/press/member_solid.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
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

/// The same ride, but with this share of its lift.
Ride shared_ride(const Ride& ride, double share) {
    Ride result = ride;
    for (RideKnot& knot : result.knots) {
        knot.lift_mm *= share;
    }
    return result;
}

Ride mean_ride(const Ride& a, const Ride& b) {
    Ride result = a;
    for (RideKnot& knot : result.knots) {
        knot.lift_mm = 0.5 * (a.lift_mm(knot.at) + b.lift_mm(knot.at));
    }
    return result;
}

Part part_of(JackPart part) {
    switch (part) {
    case JackPart::body:
        return Part::jack_body;
    case JackPart::screw:
        return Part::jack_screw;
    case JackPart::link:
        return Part::jack_link;
    case JackPart::hose:
        return Part::jack_hose;
    case JackPart::shaft:
        return Part::link_shaft;
    }
    return Part::jack_body;
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
    explicit Assembler(const Setup& setup)
        : setup_(setup), press_(*setup.press), lifting_(press_, level_source(press_)) {}

    Assembly take() {
        underside_z_mm_ = lifting_.open_height_mm();
        face_z_mm_ = underside_z_mm_ + press_.platen.thickness_mm;
        result_.daylight_mm = press_.head_underside_z_mm - face_z_mm_;
        result_.end_of_stroke = lifting_.end_of_stroke();
        result_.level_source = lifting_.source();
        result_.open_slope = lifting_.nominal_slope({0});
        const LiftingRides rides = lifting_.rides();
        result_.rides = {Ride{}, rides.platen};
        result_.by_jacks = rides.jacks_alone;
        const std::vector<OpenHeights> heights = open_heights(setup_, face_z_mm_);
        if (!heights.empty()) {
            double gaps_mm = 0;
            for (const OpenHeights& opening : heights) {
                gaps_mm += opening.gap_mm();
            }
            result_.shut_height_mm =
                heights.size() == 1 ? heights.front().shut_height_mm : result_.daylight_mm - gaps_mm;
        }
        result_.closed = lifting_.travel_at_lift(result_.daylight_mm - result_.shut_height_mm);
        result_.last = std::max(Travel{0}, std::min(result_.closed, result_.end_of_stroke));
        add_members();
        add_head_and_platen();
        add_jacks(rides.heads);
        add_guides();
        add_openings(heights);
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
            platen_ = add(
                {"platen", Part::platen, shared(plate_solid(platen, underside_z_mm_)), {}, kPlaten, platen.material});
        }
    }

    std::size_t add_ride(Ride ride) {
        result_.rides.push_back(std::move(ride));
        return result_.rides.size() - 1;
    }

    std::size_t add_jack_body(const std::string& name, JackBody part, std::size_t ride,
                              std::optional<JackPlace> of_jack) {
        const std::size_t index = add({part.name.empty() ? name : fmt::format("{} {}", name, part.name),
                                       part_of(part.part),
                                       std::move(part.mesh),
                                       {},
                                       ride,
                                       ""});
        Body& body = result_.bodies[index];
        body.drawn = part.drawn;
        body.swept = part.swept;
        body.of_jack = of_jack;
        body.fold = part.fold;
        body.shapes = std::move(part.shapes);
        body.turning = std::move(part.turning);
        return index;
    }

    void add_jacks(const std::vector<Ride>& heads) {
        std::vector<std::size_t> head_rides;
        std::vector<std::vector<std::size_t>> of_jack;
        for (std::size_t i = 0; i < press_.jacks.size(); ++i) {
            const Jack& jack = press_.jacks[i];
            const std::string name = called("jack", jack.name, i);
            head_rides.push_back(add_ride(heads[i]));
            std::map<double, std::size_t> ride_of_share{{1.0, head_rides.back()}};
            std::vector<std::size_t> parts;
            for (JackBody& part : jack_bodies(jack, std::max(jack.parked_mm, lifting_.out_mm(i, result_.last)))) {
                std::size_t ride = kStill;
                if (part.moves) {
                    const auto [known, is_new] = ride_of_share.try_emplace(part.share_of_lift, kStill);
                    if (is_new) {
                        known->second = add_ride(shared_ride(result_.rides[head_rides.back()], part.share_of_lift));
                    }
                    ride = known->second;
                }
                const bool moves = part.moves;
                const JackPlace place{Vec2{jack.foot_mm}, head_rides.back(), part.share_of_lift};
                if (part.turning) {
                    part.turning->head_ride = head_rides.back();
                }
                const std::size_t added =
                    add_jack_body(name, std::move(part), ride, moves ? std::optional(place) : std::nullopt);
                parts.push_back(added);
                if (moves) {
                    by_design(platen_, added);
                }
                for (std::size_t other = 0; other + 1 < parts.size(); ++other) {
                    by_design(parts[other], added);
                }
                const Part kind = result_.bodies[added].part;
                if (kind == Part::jack_link || kind == Part::jack_hose) {
                    beneath_platen_.push_back(added);
                }
                if (kind == Part::jack_hose) {
                    rests_on_what_is_below(added, jack.foot_mm.z);
                }
            }
            of_jack.push_back(std::move(parts));
        }
        for (const ShaftLink& link : press_.link_shafts) {
            const Ride mean = mean_ride(result_.rides[head_rides[link.from]], result_.rides[head_rides[link.to]]);
            std::size_t index = 0;
            for (JackBody& part : shaft_bodies(press_, link)) {
                const std::size_t ride = add_ride(shared_ride(mean, part.share_of_lift));
                if (part.turning) {
                    part.turning->head_ride = head_rides[link.from];
                }
                const std::size_t added =
                    add_jack_body(link.name.empty() ? fmt::format("link shaft {}", ++index) : link.name,
                                  std::move(part), ride, std::nullopt);
                for (const std::size_t jack : {link.from, link.to}) {
                    for (const std::size_t body : of_jack[jack]) {
                        by_design(body, added);
                    }
                }
            }
        }
    }

    /// A hose lies on whatever its foot stands on, an intermediate platen on its rest.
    void rests_on_what_is_below(std::size_t body, double z_mm) {
        constexpr double kOn_mm = 1.0; // drawn and built differ by less
        for (std::size_t i = 0; i < result_.bodies.size(); ++i) {
            if (result_.bodies[i].part != Part::member) {
                continue;
            }
            const Box box = bounds_of(*result_.bodies[i].mesh, result_.bodies[i].placement);
            if (std::abs(box.high_mm.z - z_mm) <= kOn_mm) {
                by_design(i, body);
            }
        }
    }

    void add_guides() {
        for (std::size_t i = 0; i < press_.guides.size(); ++i) {
            const Guide& guide = press_.guides[i];
            const std::string name = called("guide", guide.name, i);
            const std::size_t post =
                add({name + " post", Part::guide_post, shared(guide_post_solid(guide)), {}, kStill, ""});
            const std::size_t sleeve = add(
                {name + " sleeve", Part::guide_sleeve, shared(guide_sleeve_solid(guide, face_z_mm_)), {}, kPlaten, ""});
            guide_posts_.push_back(post);
            by_design(post, sleeve);
            by_design(platen_, sleeve);
            if (stands_in(guide, press_.platen)) {
                by_design(platen_, post);
            }
        }
    }

    /// The platen and the intermediate ones with what stands on them and hangs under them, each group with a ride of its
    /// own.
    void add_openings(const std::vector<OpenHeights>& heights) {
        std::size_t below = platen_;
        std::size_t ride_below = kPlaten;
        double gone_mm = 0; // the gaps below
        const Ride platen_ride = result_.rides[kPlaten];
        for (std::size_t i = 0; i < heights.size(); ++i) {
            const bool top = i + 1 == heights.size();
            AssembledOpening opening;
            opening.heights = heights[i];
            gone_mm += heights[i].gap_mm();
            opening.closes = lifting_.travel_at_lift(gone_mm);
            opening.below = below;
            opening.above = head_;
            std::size_t ride_above = kStill;
            if (!top) {
                const IntermediatePlaten& platen = setup_.intermediate_platens[i];
                const double reach = 0.5 * glm::length(platen.plate.size_mm);
                ride_above = add_ride(picked_up_ride(platen_ride, gone_mm, opening.closes, reach));
                opening.above = add_intermediate_platen(platen, i, heights[i].ceiling_z_mm, ride_above);
            }
            const Vec2 middle = i == 0 ? press_.platen.centre_mm : setup_.intermediate_platens[i - 1].plate.centre_mm;
            add_mold(i, opening, middle, ride_below, ride_above);
            result_.openings.push_back(opening);
            below = opening.above;
            ride_below = ride_above;
        }
    }

    std::size_t add_intermediate_platen(const IntermediatePlaten& platen, std::size_t index, double underside_z_mm,
                                        std::size_t ride) {
        const Platen& plate = platen.plate;
        const std::string name = fmt::format("intermediate platen {}", index + 1);
        const double face_z = underside_z_mm + plate.thickness_mm;
        const std::size_t body = plate.mesh != nullptr ? add({name,
                                                              Part::intermediate_platen,
                                                              plate.mesh,
                                                              {Mat3{1.0}, {plate.centre_mm, face_z}},
                                                              ride,
                                                              plate.material})
                                                       : add({name,
                                                              Part::intermediate_platen,
                                                              shared(plate_solid(plate, underside_z_mm)),
                                                              {},
                                                              ride,
                                                              plate.material});
        if (platen.guided) {
            for (std::size_t i = 0; i < guide_posts_.size(); ++i) {
                if (stands_in(press_.guides[i], plate)) {
                    by_design(body, guide_posts_[i]);
                }
            }
        }
        rests_on_what_is_below(body, underside_z_mm);
        return body;
    }

    /// Lower half on the face below, upper half under the platen above, both over the same spot and turned alike: they meet
    /// when closed as they are drawn.
    void add_mold(std::size_t index, AssembledOpening& assembled, Vec2 platen_middle_mm, std::size_t ride_below,
                  std::size_t ride_above) {
        const Opening& opening = setup_.openings[index];
        const Mold& mold = *opening.mold;
        const Vec2 spot = platen_middle_mm + opening.at_mm;
        const Mat3 turn = glm::mat3_cast(glm::angleAxis(opening.turn_rad, Vec3{0, 0, 1}));
        const std::string of = setup_.openings.size() > 1 ? fmt::format("opening {}", index + 1)
                               : mold.name.empty()        ? "mold"
                                                          : mold.name;
        const auto add_half = [&](const MoldHalf& half, const char* which, Part part, double seat_to_z_mm,
                                  std::size_t ride) {
            const std::size_t body = add({fmt::format("{} {} half", of, which),
                                          part,
                                          half.mesh,
                                          {turn, Vec3{spot, seat_to_z_mm}},
                                          ride,
                                          half.material,
                                          std::holds_alternative<MeshHalf>(half.shape)});
            result_.bodies[body].opening = index;
            return body;
        };
        const double lower_seat_z = bounds_of(*mold.lower.mesh).low_mm.z;
        const double upper_seat_z = bounds_of(*mold.upper.mesh).high_mm.z;
        const OpenHeights& heights = assembled.heights;
        assembled.lower =
            add_half(mold.lower, "lower", Part::mold_lower, heights.floor_z_mm - lower_seat_z, ride_below);
        assembled.upper =
            add_half(mold.upper, "upper", Part::mold_upper, heights.ceiling_z_mm - upper_seat_z, ride_above);
        by_design(assembled.below, assembled.lower);
        by_design(assembled.above, assembled.upper);
        if (index == 0) {
            for (const std::size_t body : beneath_platen_) {
                by_design(body, assembled.lower);
            }
        }
    }

    const Setup& setup_;
    const Press& press_;
    Lifting lifting_;
    double underside_z_mm_ = 0, face_z_mm_ = 0; // the platen's, at travel 0
    std::vector<std::size_t> beneath_platen_;   // what is swept of links and hoses
    std::vector<std::size_t> guide_posts_;      // bodies, in the order of the press
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
    for (const Jack& jack : setup.press->jacks) {
        if (!(jack.rate > 0)) {
            throw std::invalid_argument(fmt::format("\"{}\": the rate must be above 0", jack.name));
        }
        const double all = jack.foot_mm.x + jack.foot_mm.y + jack.foot_mm.z + jack.closed_height_mm + jack.parked_mm +
                           jack.stroke_mm + jack.rate + jack.rate_tolerance;
        if (!std::isfinite(all)) {
            throw std::invalid_argument(fmt::format("\"{}\": a length or a rate is not finite", jack.name));
        }
        if (const std::string fault = fault_of(jack); !fault.empty()) {
            throw std::invalid_argument(fmt::format("\"{}\": {}", jack.name, fault));
        }
    }
    if (setup.openings.size() > kMostOpenings) {
        throw std::invalid_argument(fmt::format("set-up: {} openings at most can be assembled", kMostOpenings));
    }
    if (setup.intermediate_platens.size() != std::max<std::size_t>(setup.openings.size(), 1) - 1) {
        throw std::invalid_argument("set-up: intermediate platens must be one fewer than openings");
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

const char* name_of(OpeningState state) {
    switch (state) {
    case OpeningState::open:
        return "open";
    case OpeningState::closing:
        return "closing";
    case OpeningState::closed:
        return "closed";
    }
    return "";
}

OpeningState Assembly::state_of(std::size_t opening, Travel at) const {
    if (at >= openings[opening].closes) {
        return OpeningState::closed;
    }
    const Travel starts = opening == 0 ? Travel{0} : openings[opening - 1].closes;
    return at > starts ? OpeningState::closing : OpeningState::open;
}

std::optional<Travel> Assembly::picked_up(std::size_t ride) const {
    if (ride == kStill) {
        return Travel{std::numeric_limits<double>::infinity()};
    }
    if (ride == kPlaten) {
        return Travel{0};
    }
    for (const AssembledOpening& opening : openings) {
        if (bodies[opening.above].ride == ride) {
            return opening.closes;
        }
    }
    return std::nullopt;
}

std::vector<BodyPair> Assembly::moving_pairs() const {
    std::vector<BodyPair> pairs;
    for (std::size_t a = 0; a < bodies.size(); ++a) {
        for (std::size_t b = a + 1; b < bodies.size(); ++b) {
            if (bodies[a].ride != bodies[b].ride && bodies[a].swept && bodies[b].swept && !may_touch(a, b)) {
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
