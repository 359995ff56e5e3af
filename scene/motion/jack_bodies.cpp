#include "scene/motion/jack_bodies.hpp"

#include "scene/press/fittings_solid.hpp"
#include "scene/press/linkage_solid.hpp"
#include "scene/press/prism.hpp"

#include <fmt/format.h>

#include <glm/geometric.hpp>

#include <cmath>
#include <numbers>
#include <stdexcept>

namespace evenclose {
namespace {

SharedMesh shared(TriangleMesh mesh) { return std::make_shared<const TriangleMesh>(std::move(mesh)); }

Mat3 about_z(double angle) { return glm::mat3_cast(glm::angleAxis(angle, Vec3{0, 0, 1})); }
Mat3 about_y(double angle) { return glm::mat3_cast(glm::angleAxis(angle, Vec3{0, 1, 0})); }

void need(bool fits, const std::string& name, const char* what) {
    if (!fits) {
        throw std::invalid_argument(fmt::format("\"{}\": {}", name, what));
    }
}

/// A block of X x Y standing on z = 0.
TriangleMesh block(const Vec2& size_mm, double height_mm) {
    return prism(rectangle_outline(size_mm.x, size_mm.y), height_mm);
}

/// A round rod along X about the origin.
TriangleMesh rod_along_x(double diameter_mm, double length_mm) {
    const Mat3 level{Vec3{0, 1, 0}, Vec3{0, 0, 1}, Vec3{1, 0, 0}}; // Z to X
    return placed(prism(round_outline(diameter_mm), length_mm), {level, {-0.5 * length_mm, 0, 0}});
}

/// What stands and what comes out of it.
std::vector<JackBody> body_and_stem(const Jack& jack, const ScrewJack& screw) {
    return {{"body", JackPart::body, shared(jack_body_solid(jack, screw)), 0, false, true, true, {}, {}},
            {"screw", JackPart::screw, shared(jack_screw_solid(jack, screw)), 1, true, true, true, {}, {}}};
}

std::vector<JackBody> bodies(const Jack& jack, const ScrewJack& screw, double) {
    std::vector<JackBody> parts = body_and_stem(jack, screw);
    const double shoulder = jack.head_z_mm(jack.parked_mm) - screw.head_thickness_mm;
    const Box box = bounds_of(*parts[1].mesh);
    parts[1].turning = Turning{{Vec2{jack.foot_mm}, box.low_mm.z},
                               {Vec2{jack.foot_mm}, shoulder},
                               0.5 * screw.screw_diameter_mm,
                               screw.thread.lead_mm,
                               ThreadHand::right,
                               false,
                               law_of(jack),
                               jack.parked_mm};
    return parts;
}

/// Barrel and rod are drawn as body and screw of a screw jack are.
std::vector<JackBody> bodies(const Jack& jack, const CylinderJack& cylinder, double) {
    ScrewJack like;
    like.body_diameter_mm = cylinder.body_diameter_mm;
    like.screw_diameter_mm = cylinder.cylinder.rod_mm;
    like.head_diameter_mm = cylinder.head_diameter_mm;
    like.head_thickness_mm = cylinder.head_thickness_mm;
    std::vector<JackBody> parts = body_and_stem(jack, like);
    parts[0].name = "barrel";
    parts[1].name = "rod";
    return parts;
}

/// The screw of a scissor jack is long enough for its widest spread, and for the nuts.
double scissor_screw_length_mm(const Jack& jack, const ScissorJack& scissor) {
    return spread_mm(jack, scissor, jack.parked_mm) + 2 * scissor.link_width_mm;
}

class Linkage {
public:
    Linkage(const Jack& jack, const ScissorJack& scissor, double last_out_mm)
        : jack_(jack), scissor_(scissor), link_{scissor.arm_mm, scissor.link_width_mm, scissor.link_depth_mm},
          turn_(about_z(scissor.direction_rad)), foot_pin_(jack.foot_mm + Vec3{0, 0, scissor.base_height_mm}),
          parked_height_(linkage_height_mm(jack, scissor, jack.parked_mm)), from_rad_(angle_at(jack.parked_mm)),
          to_rad_(angle_at(last_out_mm)) {
        need(scissor.foot_size_mm.x > 0 && scissor.foot_size_mm.y > 0 && scissor.head_size_mm.x > 0 &&
                 scissor.head_size_mm.y > 0 && scissor.base_height_mm > 0 && scissor.head_height_mm > 0,
             jack.name, "foot and head must have a size");
        need(scissor.screw_diameter_mm > 0, jack.name, "the screw diameter must be above 0");
    }

    std::vector<JackBody> take() {
        const double head_z = jack_.head_z_mm(jack_.parked_mm);
        add("foot", JackPart::body, block(scissor_.foot_size_mm, scissor_.base_height_mm), jack_.foot_mm, 0).moves =
            false;
        add("head", JackPart::body, block(scissor_.head_size_mm, scissor_.head_height_mm),
            {Vec2{jack_.foot_mm}, head_z - scissor_.head_height_mm}, 1);
        scissor_.rhombus() ? add_rhombus() : add_stages();
        return std::move(parts_);
    }

private:
    /// Of a link above the level.
    [[nodiscard]] double angle_at(double out_mm) const {
        const double links = scissor_.rhombus() ? 2 : scissor_.stages;
        return std::asin(linkage_height_mm(jack_, scissor_, out_mm) / (links * scissor_.arm_mm));
    }

    JackBody& add(std::string name, JackPart part, const TriangleMesh& mesh, const Vec3& at_mm, double share) {
        parts_.push_back(
            {std::move(name), part, shared(placed(mesh, {turn_, at_mm})), share, true, true, true, {}, {}});
        return parts_.back();
    }

    void add_link(std::string name, Vec2 from, Vec2 to) {
        if (shared_link_ == nullptr) {
            shared_link_ = shared(link_solid(link_));
        }
        FoldingLink fold{foot_pin_,
                         scissor_.direction_rad,
                         from,
                         to,
                         linkage_height_mm(jack_, scissor_, 0),
                         jack_.parked_mm,
                         (scissor_.rhombus() ? 2 : 1) * scissor_.arm_mm,
                         scissor_.rhombus() ? 1 : scissor_.stages};
        parts_.push_back({std::move(name), JackPart::link, shared_link_, 0, true, true, false, fold, {}});
    }
    void add_swept(std::string name, const TriangleMesh& mesh, const Vec3& at_mm, double share) {
        JackBody& swept = add(std::move(name), JackPart::link, mesh, at_mm, share);
        swept.drawn = false;
    }

    /// The nuts draw the side pins (or the base's feet) inward along it.
    void add_screw(const Vec3& middle_mm, double share, ThreadHand hand) {
        const double length = scissor_screw_length_mm(jack_, scissor_);
        const Vec3 half = turn_ * Vec3{0.5 * length, 0, 0};
        add("screw", JackPart::screw, rod_along_x(scissor_.screw_diameter_mm, length), middle_mm, share)
            .turning = Turning{
            middle_mm - half, middle_mm + half, 0.5 * scissor_.screw_diameter_mm, scissor_.thread.lead_mm, hand, false,
            law_of(jack_),    jack_.parked_mm};
    }

    void add_rhombus() {
        add_screw(foot_pin_ + Vec3{0, 0, 0.5 * parked_height_}, 0.5,
                  scissor_.both_ends_threaded ? ThreadHand::right_and_left : ThreadHand::right);
        const Vec3 head_pin = foot_pin_ + Vec3{0, 0, parked_height_};
        for (const double side : {-1.0, 1.0}) {
            const char* which = side < 0 ? "left" : "right";
            add_link(fmt::format("{} lower link", which), {0, 0}, {side, 0.5});
            add_link(fmt::format("{} upper link", which), {0, 1}, {side, 0.5});
            // A right link swings up from its pin, the left one likewise mirrored: half a turn about Z.
            const TriangleMesh right_lower = swung_link_solid(link_, from_rad_, to_rad_);
            const TriangleMesh right_upper = swung_link_solid(link_, -to_rad_, -from_rad_);
            const Pose mirrored{side < 0 ? about_z(std::numbers::pi) : Mat3{1.0}, Vec3{0.0}};
            add_swept(fmt::format("{} lower link's swing", which), placed(right_lower, mirrored), foot_pin_, 0);
            add_swept(fmt::format("{} upper link's swing", which), placed(right_upper, mirrored), head_pin, 1);
        }
    }

    void add_stages() {
        add_screw(foot_pin_, 0, ThreadHand::right);
        const TriangleMesh cross = swung_cross_solid(link_, from_rad_, to_rad_);
        for (int stage = 0; stage < scissor_.stages; ++stage) {
            const double below = static_cast<double>(stage) / scissor_.stages;
            const double above = static_cast<double>(stage + 1) / scissor_.stages;
            add_link(fmt::format("stage {} rising arm", stage + 1), {-1, below}, {1, above});
            add_link(fmt::format("stage {} falling arm", stage + 1), {-1, above}, {1, below});
            const double middle = 0.5 * (below + above);
            add_swept(fmt::format("stage {} arms' swing", stage + 1), cross,
                      foot_pin_ + Vec3{0, 0, middle * parked_height_}, middle);
        }
    }

    const Jack& jack_;
    const ScissorJack& scissor_;
    LinkShape link_;
    Mat3 turn_;
    Vec3 foot_pin_;
    double parked_height_, from_rad_, to_rad_;
    SharedMesh shared_link_;
    std::vector<JackBody> parts_;
};

std::vector<JackBody> bodies(const Jack& jack, const ScissorJack& scissor, double last_out_mm) {
    return Linkage(jack, scissor, last_out_mm).take();
}

/// Flat where it lies on the plates, half round at both sides; along X, standing on z = 0.
TriangleMesh hose_solid(const InflatableHose& hose, double height_mm) {
    constexpr int kFacets = 12; // on each half round; chords: 0.9 % of the radius within, drawn only
    const double flat = 0.5 * contact_width_mm(hose, height_mm);
    const double radius = 0.5 * height_mm;
    Outline outline; // u is Y, v is Z
    for (const double side : {1.0, -1.0}) {
        for (int i = 0; i <= kFacets; ++i) {
            const double angle = std::numbers::pi * (static_cast<double>(i) / kFacets - 0.5);
            outline.outer.corners_mm.push_back(
                {side * (flat + radius * std::cos(angle)), radius + side * radius * std::sin(angle)});
        }
    }
    const Mat3 along_x{Vec3{0, 1, 0}, Vec3{0, 0, 1}, Vec3{1, 0, 0}};
    return placed(prism(outline, hose.length_mm), {along_x, {-0.5 * hose.length_mm, 0, 0}});
}

std::vector<JackBody> bodies(const Jack& jack, const HoseJack& hose, double last_out_mm) {
    need(hose.hose.free_diameter_mm > 0 && hose.hose.length_mm > 0, jack.name, "the hose must have a size");
    const Mat3 turn = about_z(hose.direction_rad);
    const double lowest = jack.closed_height_mm + jack.parked_mm;
    const double highest = jack.closed_height_mm + last_out_mm;
    constexpr int kShapes = 12;
    JackBody drawn{"hose", JackPart::hose, nullptr, 0, true, true, false, {}, {}};
    for (int i = 0; i < kShapes; ++i) {
        const double height = lowest + (highest - lowest) * i / kShapes; // never through the platen
        drawn.shapes.push_back({(highest - lowest) * (i + 1) / kShapes,
                                shared(placed(hose_solid(hose.hose, height), {turn, jack.foot_mm}))});
    }
    drawn.mesh = drawn.shapes.front().mesh;
    // Widest when flattest, tallest at the end: a block of both holds it throughout.
    const double widest = contact_width_mm(hose.hose, lowest) + lowest;
    JackBody swept{"hose's room", JackPart::hose, nullptr, 0, true, false, true, {}, {}};
    swept.mesh = shared(placed(block({hose.hose.length_mm, widest}, highest), {turn, jack.foot_mm}));
    return {drawn, swept};
}

/// Height of the screw's axis above the floor at travel 0.
double screw_axis_z_mm(const Jack& jack, const ShaftLink& link) {
    if (const auto* scissor = std::get_if<ScissorJack>(&jack.kind)) {
        const double linkage = linkage_height_mm(jack, *scissor, jack.parked_mm);
        return jack.foot_mm.z + scissor->base_height_mm + (scissor->rhombus() ? 0.5 * linkage : 0.0);
    }
    return jack.foot_mm.z + link.height_mm.value_or(0.5 * jack.closed_height_mm);
}

/// How far a jack's own screw reaches from its middle towards the shaft.
double screw_reach_mm(const Jack& jack) {
    const auto* scissor = std::get_if<ScissorJack>(&jack.kind);
    return scissor != nullptr ? 0.5 * scissor_screw_length_mm(jack, *scissor) : 0.0;
}

} // namespace

Pose pose_of(const FoldingLink& link, double risen_mm) {
    const double height = link.closed_height_mm + link.parked_mm + risen_mm;
    const double stage = height / link.stages;
    const double half_spread = 0.5 * std::sqrt(std::max(0.0, link.reach_mm * link.reach_mm - stage * stage));
    const Vec2 from{half_spread * link.from.x, height * link.from.y};
    const Vec2 to{half_spread * link.to.x, height * link.to.y};
    const Mat3 turn = about_z(link.direction_rad);
    // Turning +X about Y by a negative angle lifts it.
    const Mat3 rise = about_y(-std::atan2(to.y - from.y, to.x - from.x));
    return {turn * rise, link.foot_pin_mm + turn * Vec3{from.x, 0, from.y}};
}

std::vector<JackBody> jack_bodies(const Jack& jack, double last_out_mm) {
    return std::visit([&](const auto& kind) { return bodies(jack, kind, last_out_mm); }, jack.kind);
}

std::vector<JackBody> shaft_bodies(const Press& press, const ShaftLink& link) {
    const Jack& a = press.jacks[link.from];
    const Jack& b = press.jacks[link.to];
    Vec3 from{Vec2{a.foot_mm}, screw_axis_z_mm(a, link)};
    Vec3 to{Vec2{b.foot_mm}, screw_axis_z_mm(b, link)};
    const double apart = glm::distance(from, to);
    need(apart > 0, link.name, "its jacks stand on one spot");
    const Vec3 along = (to - from) / apart;
    if (screw_reach_mm(a) + screw_reach_mm(b) < apart) { // from the end of one screw to that of the other
        from += screw_reach_mm(a) * along;
        to -= screw_reach_mm(b) * along;
    }
    const double length = glm::distance(from, to);
    const Vec3 across = glm::normalize(glm::cross(std::abs(along.z) < 0.9 ? Vec3{0, 0, 1} : Vec3{1, 0, 0}, along));
    const Pose pose{Mat3{across, glm::cross(along, across), along}, from};
    const auto* scissor = std::get_if<ScissorJack>(&a.kind);
    const double share = scissor != nullptr && scissor->rhombus() ? 0.5 : 0.0;

    const auto body = [&](const Outline& outline) {
        return JackBody{"", JackPart::shaft, shared(placed(prism(outline, length), pose)), share, true, true, true, {},
                        {}};
    };
    Turning turning{from, to, 0, 0, ThreadHand::none, false, law_of(a), a.parked_mm};
    turning.backwards = scissor != nullptr && glm::dot(about_z(scissor->direction_rad) * Vec3{1, 0, 0}, along) < 0;
    if (const auto* round = std::get_if<RoundShaft>(&link.shaft.section)) {
        JackBody drawn = body(round_outline(round->diameter_mm));
        turning.radius_mm = 0.5 * round->diameter_mm;
        drawn.turning = turning;
        return {drawn};
    }
    const auto& box = std::get<BoxShaft>(link.shaft.section);
    JackBody drawn = body(rectangle_outline(box.width_mm, box.depth_mm));
    drawn.swept = false;
    drawn.turning = turning; // all of it turns: it is not round
    JackBody swept = body(round_outline(std::hypot(box.width_mm, box.depth_mm)));
    swept.name = "turning";
    swept.drawn = false;
    return {drawn, swept};
}

} // namespace evenclose
