#include "checks/frame/joints.hpp"

#include "checks/phrase.hpp"
#include "scene/materials/material.hpp"
#include "scene/press/built_up.hpp"
#include "scene/press/member_solid.hpp"

#include <fmt/format.h>

#include <glm/geometric.hpp>
#include <glm/matrix.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

namespace evenclose {
namespace {

// Members closer to parallel than this lie along each other (common practice, no source).
constexpr double kParallel = 0.996; // cosine of 5 degrees
// A spot every so often along members that lie along each other.
constexpr double kSpotEvery_mm = 130;
// Deeper in than this share of the thinner one, and one passes through the other.
constexpr double kThrough = 0.25;

double radius_along(const MemberBox& box, const Vec3& direction) {
    double sum = 0;
    for (int i = 0; i < 3; ++i) {
        sum += box.half_mm[i] * std::abs(glm::dot(box.axes[i], direction));
    }
    return sum;
}

double separation(const MemberBox& a, const MemberBox& b, const Vec3& direction) {
    return std::abs(glm::dot(b.centre_mm - a.centre_mm, direction)) - radius_along(a, direction) -
           radius_along(b, direction);
}

struct Interval {
    double low = 0, high = 0;
    [[nodiscard]] double length() const { return std::max(0.0, high - low); }
    [[nodiscard]] double middle() const { return 0.5 * (low + high); }
};

Interval shared(const MemberBox& a, const MemberBox& b, const Vec3& direction) {
    const double at_a = glm::dot(a.centre_mm, direction);
    const double at_b = glm::dot(b.centre_mm, direction);
    return {std::max(at_a - radius_along(a, direction), at_b - radius_along(b, direction)),
            std::min(at_a + radius_along(a, direction), at_b + radius_along(b, direction))};
}

/// Nearest points of two members' axes: the middle between them.
Vec3 where_axes_meet(const MemberBox& a, const MemberBox& b) {
    const Vec3 d1 = a.axes[2];
    const Vec3 d2 = b.axes[2];
    const Vec3 r = a.centre_mm - b.centre_mm;
    const double cosine = glm::dot(d1, d2);
    const double bottom = 1 - cosine * cosine;
    double s = bottom > 1e-12 ? (cosine * glm::dot(d2, r) - glm::dot(d1, r)) / bottom : 0.0;
    s = std::clamp(s, -a.half_mm.z, a.half_mm.z);
    const double t = std::clamp(glm::dot(d2, r + s * d1), -b.half_mm.z, b.half_mm.z);
    s = std::clamp(glm::dot(d1, b.centre_mm + t * d2 - a.centre_mm), -a.half_mm.z, a.half_mm.z);
    return 0.5 * (a.centre_mm + s * d1 + b.centre_mm + t * d2);
}

struct Part {
    MemberBox box;
    bool metal = false, rod = false, plate = false;
};

void place_spots(FoundJoint& joint, const Part& a, const Part& b, double gap_mm) {
    const double thinner = std::min(radius_along(a.box, joint.normal), radius_along(b.box, joint.normal));
    joint.rod = a.rod != b.rod;
    joint.through = -gap_mm > kThrough * 2 * thinner || (joint.rod && -gap_mm > kJointGap_mm);
    const bool plate = a.plate || b.plate;
    const bool parallel = std::abs(glm::dot(a.box.axes[2], b.box.axes[2])) > kParallel;
    if (joint.through && !plate && (!parallel || joint.rod)) {
        const Part& rod = a.rod ? a : b;
        const Part& other = a.rod ? b : a;
        if (joint.rod) {
            joint.normal = rod.box.axes[2];
        }
        const Vec3 side = other.box.axes[2];
        const Vec3 level = side - glm::dot(side, joint.normal) * joint.normal;
        joint.along_patch = glm::length(level) > 1e-6 ? glm::normalize(level) : other.box.axes[0];
        // A rod bears by washers of three times its diameter (EN 1995-1-1, 10.4.3, from memory).
        const double across = joint.rod ? 2 * rod.box.half_mm.x * std::sqrt(2 * 3.14159265358979) : 2 * thinner;
        joint.patch_mm = {across, across};
        joint.spots_mm = {where_axes_meet(a.box, b.box)};
        return;
    }
    // The face they share, laid out along the longer side of what they share.
    const MemberBox& ruler = a.plate ? b.box : a.box;
    int normal_axis = 0;
    for (int i = 1; i < 3; ++i) {
        if (std::abs(glm::dot(ruler.axes[i], joint.normal)) >
            std::abs(glm::dot(ruler.axes[normal_axis], joint.normal))) {
            normal_axis = i;
        }
    }
    Vec3 one = ruler.axes[(normal_axis + 1) % 3];
    one = glm::normalize(one - glm::dot(one, joint.normal) * joint.normal);
    Vec3 two = glm::cross(joint.normal, one);
    Interval along = shared(a.box, b.box, one);
    Interval across = shared(a.box, b.box, two);
    if (across.length() > along.length()) {
        std::swap(one, two);
        std::swap(along, across);
    }
    const double on_a = glm::dot(a.box.centre_mm, joint.normal) + radius_along(a.box, joint.normal);
    const double on_b = glm::dot(b.box.centre_mm, joint.normal) - radius_along(b.box, joint.normal);
    const bool line = plate || parallel;
    const int spots = line ? std::max(1, static_cast<int>(std::lround(along.length() / kSpotEvery_mm))) : 1;
    joint.along_patch = one;
    joint.patch_mm = {along.length() / spots, across.length()};
    for (int i = 0; i < spots; ++i) {
        const double at = along.low + (i + 0.5) / spots * along.length();
        joint.spots_mm.push_back(at * one + across.middle() * two + 0.5 * (on_a + on_b) * joint.normal);
    }
}

} // namespace

bool is_metal(const Press& press, const std::string& material) {
    const Material* found = find_material(press.materials, material);
    return found != nullptr && found->is_metal();
}

bool is_metal(const Press& press, const Member& member) {
    const std::vector<BuiltUpPart> parts = parts_of(member.section);
    return std::all_of(parts.begin(), parts.end(),
                       [&](const BuiltUpPart& part) { return is_metal(press, material_of(part, member)); });
}

bool is_rod(const Section& section) {
    const auto* pipe = std::get_if<PipeSection>(&section);
    return pipe != nullptr && 2 * pipe->wall_mm >= pipe->outside_diameter_mm;
}

std::optional<MemberBox> box_of(const Member& member) {
    if (std::holds_alternative<MeshSection>(member.section)) {
        return std::nullopt;
    }
    const Vec2 size = size_of(member.section);
    const Pose frame = frame_of(member);
    return MemberBox{0.5 * (member.a_mm + member.b_mm),
                     frame.rotation,
                     {0.5 * size.x, 0.5 * size.y, 0.5 * glm::distance(member.a_mm, member.b_mm)}};
}

MemberBox head_box(const Press& press) {
    const Platen& head = press.head;
    return {Vec3{head.centre_mm, press.head_underside_z_mm + 0.5 * head.thickness_mm}, Mat3{1.0},
            0.5 * Vec3{head.size_mm, head.thickness_mm}};
}

BoxContact contact_of(const MemberBox& a, const MemberBox& b) {
    BoxContact contact{-std::numeric_limits<double>::infinity(), a.axes[0]};
    const auto face = [&](const Vec3& direction) {
        // A face that is nearly as good is not preferred for its rounding.
        if (const double gap = separation(a, b, direction); gap > contact.gap_mm + 1e-9) {
            contact = {gap, direction};
        }
    };
    for (int i = 0; i < 3; ++i) {
        face(a.axes[i]);
        face(b.axes[i]);
    }
    if (glm::dot(contact.normal, b.centre_mm - a.centre_mm) < 0) {
        contact.normal = -contact.normal;
    }
    for (int i = 0; i < 3; ++i) {
        for (int j = 0; j < 3; ++j) {
            const Vec3 cross = glm::cross(a.axes[i], b.axes[j]);
            if (const double length = glm::length(cross); length > 1e-6) {
                contact.gap_mm = std::max(contact.gap_mm, separation(a, b, cross / length));
            }
        }
    }
    return contact;
}

std::string joined_name(const Press& press, std::size_t member) {
    return member == FoundJoint::kHead ? "head" : press.members[member].name;
}

Joints joints_of(const Press& press) {
    std::vector<std::optional<Part>> parts;
    for (const Member& member : press.members) {
        const std::optional<MemberBox> box = box_of(member);
        parts.push_back(box ? std::optional<Part>{Part{*box, is_metal(press, member), is_rod(member.section), false}}
                            : std::nullopt);
    }
    parts.push_back(Part{head_box(press), is_metal(press, press.head.material), false, true});
    const std::size_t head = press.members.size();
    Joints joints;
    std::vector<bool> met(press.joints.size(), false);
    for (std::size_t i = 0; i < parts.size(); ++i) {
        for (std::size_t j = i + 1; j < parts.size(); ++j) {
            if (!parts[i] || !parts[j]) {
                continue;
            }
            FoundJoint joint;
            joint.first = i == head ? FoundJoint::kHead : i;
            joint.second = j == head ? FoundJoint::kHead : j;
            const std::string one = joined_name(press, joint.first);
            const std::string two = joined_name(press, joint.second);
            const auto stated = std::find_if(press.joints.begin(), press.joints.end(), [&](const Joint& said) {
                return (said.first == one && said.second == two) || (said.first == two && said.second == one);
            });
            const BoxContact contact = contact_of(parts[i]->box, parts[j]->box);
            const bool said = stated != press.joints.end();
            if (said) {
                met[static_cast<std::size_t>(stated - press.joints.begin())] = true;
            }
            if (contact.gap_mm > kJointGap_mm) {
                if (said && stated->kind != JointKind::none) {
                    joints.apart.push_back(fmt::format("{} and {}: told to be {}, but they stand {} apart", one, two,
                                                       name_of(stated->kind), length_mark(contact.gap_mm)));
                }
                continue;
            }
            joint.normal = contact.normal;
            joint.stated = said;
            joint.bolts = said ? stated->bolts : std::nullopt;
            place_spots(joint, *parts[i], *parts[j], contact.gap_mm);
            const bool welded = parts[i]->metal && parts[j]->metal && !joint.rod && joint.spots_mm.size() == 1;
            joint.kind = said ? stated->kind : welded ? JointKind::welded : JointKind::bolted;
            if (joint.kind != JointKind::none) {
                joints.found.push_back(std::move(joint));
            }
        }
    }
    for (std::size_t i = 0; i < met.size(); ++i) {
        if (!met[i]) {
            joints.apart.push_back(fmt::format("{} and {}: told to be {}, but one of them has no section to meet with",
                                               press.joints[i].first, press.joints[i].second,
                                               name_of(press.joints[i].kind)));
        }
    }
    return joints;
}

} // namespace evenclose
