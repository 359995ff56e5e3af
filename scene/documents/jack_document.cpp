#include "scene/documents/jack_document.hpp"

#include "scene/documents/name_register.hpp"

#include <fmt/format.h>

#include <glm/geometric.hpp>

#include <cmath>

namespace evenclose {
namespace {

// A drive that runs ten times as fast as meant is a mistyped one; so is a tolerance beyond one half.
constexpr NumberRange kRate{0.001, 10, "one above 0 and up to 10, such as 0.99 or \"99 %\""};
constexpr NumberRange kRateTolerance{0, 0.5, "one from 0 to 0.5, such as 0.01 or \"1 %\""};
constexpr NumberRange kCollarFriction{0, 1.0, "one from 0 to 1, such as 0.1; 0 is a rolling bearing"};
constexpr int kMostStarts = 12;
constexpr int kMostStages = 20;
constexpr std::string_view kScrewKeys[] = {"lead",          "body_diameter",  "screw_diameter",
                                           "head_diameter", "head_thickness", "thread"};

/// Nothing was found missing or wrong in any of these.
template <class... Numbers> bool all_read(Numbers... numbers) { return (std::isfinite(numbers) && ...); }

JackThread read_thread(ObjectCursor& jack) {
    JackThread thread;
    thread.lead_mm = jack.length_mm("lead", kPositive);
    if (!jack.has("thread")) {
        return thread;
    }
    ObjectCursor object = jack.object("thread", "thread");
    constexpr std::string_view kForms[] = {"square", "trapezoidal", "acme"}; // in the order of ThreadForm
    thread.form =
        static_cast<ThreadForm>(object.choice("form", kForms, static_cast<std::size_t>(ThreadForm::trapezoidal)));
    thread.starts = object.count("starts", 1, kMostStarts, 1);
    thread.friction = object.fraction("friction", kFriction);
    thread.collar_friction = object.fraction("collar_friction", kCollarFriction, 0.0);
    thread.collar_diameter_mm = object.length_mm("collar_diameter", kZeroOrMore, 0.0);
    if (thread.collar_friction > 0 && thread.collar_diameter_mm == 0) {
        object.refuse("collar_friction", "has no collar diameter beside it", "give \"collar_diameter\" as well");
    }
    return thread;
}

ScrewJack read_screw(ObjectCursor& object) {
    ScrewJack screw;
    screw.thread = read_thread(object);
    screw.body_diameter_mm = object.length_mm("body_diameter", kPositive);
    screw.screw_diameter_mm = object.length_mm("screw_diameter", kPositive);
    screw.head_diameter_mm = object.length_mm("head_diameter", kPositive);
    screw.head_thickness_mm = object.length_mm("head_thickness", kPositive);
    return screw;
}

ScissorJack read_scissor(ObjectCursor object) {
    ScissorJack scissor;
    scissor.arm_mm = object.length_mm("arm", kPositive);
    scissor.stages = object.count("stages", 0, kMostStages, 0);
    scissor.both_ends_threaded = !object.yes_no("one_nut", false);
    scissor.base_height_mm = object.length_mm("base_height", kPositive);
    scissor.head_height_mm = object.length_mm("head_height", kPositive);
    scissor.foot_size_mm = object.vec2_mm("foot_size", {"along the screw", "across"}, kPositive);
    scissor.head_size_mm = object.vec2_mm("head_size", {"along the screw", "across"}, kPositive);
    scissor.link_width_mm = object.length_mm("link_width", kPositive);
    scissor.link_depth_mm = object.length_mm("link_depth", kPositive);
    scissor.direction_rad = object.angle_rad("direction", 0.0);
    scissor.thread = read_thread(object);
    scissor.screw_diameter_mm = object.length_mm("screw_diameter", kPositive);
    if (scissor.stages > 0 && object.has("one_nut")) {
        object.refuse("one_nut", "does not go with stages", "it belongs to a rhombus: leave out \"stages\"");
    }
    if (scissor.link_width_mm >= scissor.arm_mm) {
        object.refuse("link_width", "is more than the arm is long", "give the width as seen from the side");
    }
    return scissor;
}

CylinderJack read_cylinder(ObjectCursor object) {
    CylinderJack jack;
    jack.cylinder.bore_mm = object.length_mm("bore", kPositive);
    jack.cylinder.rod_mm = object.length_mm("rod", kPositive);
    jack.body_diameter_mm = object.length_mm("body_diameter", kPositive);
    jack.head_diameter_mm = object.length_mm("head_diameter", kPositive);
    jack.head_thickness_mm = object.length_mm("head_thickness", kPositive);
    if (jack.cylinder.rod_mm >= jack.cylinder.bore_mm) {
        object.refuse("rod", "is not thinner than the bore", "give less than the bore");
    }
    if (jack.body_diameter_mm <= jack.cylinder.bore_mm) {
        object.refuse("body_diameter", "leaves no wall around the bore", "give more than the bore");
    }
    return jack;
}

HoseJack read_hose(ObjectCursor object) {
    HoseJack jack;
    jack.hose.free_diameter_mm = object.length_mm("free_diameter", kPositive);
    jack.hose.length_mm = object.length_mm("length", kPositive);
    jack.direction_rad = object.angle_rad("direction", 0.0);
    return jack;
}

constexpr std::string_view kOtherKinds[] = {"scissor", "cylinder", "hose"};

/// None: what it is cannot be told, and that has been said.
std::optional<JackKind> read_kind(ObjectCursor& object) {
    std::string_view kind;
    for (const std::string_view key : kOtherKinds) {
        if (object.misspelt(key)) {
            return std::nullopt;
        }
        if (!object.has(key)) {
            continue;
        }
        if (!kind.empty()) {
            object.refuse(key, fmt::format("stands beside \"{}\"", kind), "a jack is of one kind");
            return std::nullopt;
        }
        kind = key;
    }
    if (kind.empty()) {
        return read_screw(object);
    }
    for (const std::string_view key : kScrewKeys) {
        object.refuse(key, fmt::format("does not go with \"{}\"", kind), "it belongs to a screw jack");
    }
    if (kind == "scissor") {
        return read_scissor(object.object("scissor", "scissor"));
    }
    if (kind == "cylinder") {
        return read_cylinder(object.object("cylinder", "cylinder"));
    }
    return read_hose(object.object("hose", "hose"));
}

/// What a kind cannot be with the heights that stand beside it.
void check_whole(ObjectCursor& object, const Jack& jack) {
    if (jack.parked_mm > jack.stroke_mm) {
        object.refuse("parked", "is beyond the stroke", "give at most the stroke");
    }
    double head_thickness_mm = 0;
    if (const auto* screw = std::get_if<ScrewJack>(&jack.kind)) {
        head_thickness_mm = screw->head_thickness_mm;
        if (screw->thread.lead_mm > jack.stroke_mm) {
            object.refuse("lead", "is more than the whole stroke", "the lead is the rise for one turn");
        } else if (screw->thread.lead_mm / screw->thread.starts >= screw->screw_diameter_mm) {
            object.refuse("lead", "is more than the screw is thick", "lead over starts is the pitch of the thread");
        }
        if (head_thickness_mm >= jack.closed_height_mm) {
            object.refuse("head_thickness", "is more than the closed height holds", "give less than the closed height");
        }
        return;
    }
    if (const auto* cylinder = std::get_if<CylinderJack>(&jack.kind)) {
        head_thickness_mm = cylinder->head_thickness_mm;
        if (head_thickness_mm >= jack.closed_height_mm) {
            object.refuse("cylinder", "has a head thicker than the closed height", "give less than the closed height");
            return;
        }
    }
    if (!all_read(jack.closed_height_mm, jack.stroke_mm, jack.parked_mm)) {
        return;
    }
    if (const std::string fault = fault_of(jack); !fault.empty()) {
        object.refuse_whole(fault, "closed height and stroke go with the size of what lifts");
    }
}

bool measures_read(const Jack& jack) {
    if (const auto* scissor = std::get_if<ScissorJack>(&jack.kind)) {
        return all_read(scissor->arm_mm, scissor->base_height_mm, scissor->head_height_mm, scissor->thread.lead_mm,
                        scissor->screw_diameter_mm);
    }
    if (const auto* cylinder = std::get_if<CylinderJack>(&jack.kind)) {
        return all_read(cylinder->cylinder.bore_mm, cylinder->cylinder.rod_mm) &&
               cylinder->cylinder.rod_mm < cylinder->cylinder.bore_mm; // told already
    }
    if (const auto* hose = std::get_if<HoseJack>(&jack.kind)) {
        return all_read(hose->hose.free_diameter_mm);
    }
    return true;
}

Jack read_jack(ObjectCursor& object, bool& kind_known) {
    Jack jack;
    jack.name = object.text("name");
    jack.foot_mm = object.vec3_mm("foot", {"x", "y", "z"}, kAnyLength);
    jack.closed_height_mm = object.length_mm("closed_height", kPositive);
    jack.parked_mm = object.length_mm("parked", kZeroOrMore, 0.0);
    jack.stroke_mm = object.length_mm("stroke", kPositive);
    jack.rated_load_N = object.force_N("rated_load");
    if (object.has("moving_mass")) {
        jack.moving_mass_kg = object.mass_kg("moving_mass");
    }
    jack.rate = object.fraction("rate", kRate, 1.0);
    jack.rate_tolerance = object.fraction("rate_tolerance", kRateTolerance, 0.0);
    const std::optional<JackKind> kind = read_kind(object);
    kind_known = kind.has_value();
    if (kind) {
        jack.kind = *kind;
        if (measures_read(jack)) {
            check_whole(object, jack);
        }
    }
    return jack;
}

} // namespace

std::vector<bool> read_jacks(ObjectCursor& document, Press& press) {
    std::vector<bool> kinds_known;
    NameRegister names;
    std::vector<ObjectCursor> objects = document.objects("jacks", "jack", 2, "two jacks or more");
    for (ObjectCursor& object : objects) {
        bool kind_known = false;
        Jack jack = read_jack(object, kind_known);
        kinds_known.push_back(kind_known);
        names.enter(object, jack.name);
        // Two heads on one spot fix no slope of the platen.
        const bool stands = all_read(jack.foot_mm.x, jack.foot_mm.y);
        for (std::size_t i = 0; stands && i < press.jacks.size(); ++i) {
            if (glm::distance(Vec2{press.jacks[i].foot_mm}, Vec2{jack.foot_mm}) < 1.0) {
                object.refuse("foot", fmt::format("is where jacks[{}] stands", i), "give each jack its own place");
                break;
            }
        }
        if (document.has("drives")) { // two sayings of one speed would have to agree
            for (const std::string_view key : {"rate", "rate_tolerance"}) {
                object.refuse(key, "does not go with \"drives\"", "speed and tolerance of the drive say it");
            }
        }
        press.jacks.push_back(std::move(jack));
    }
    return kinds_known;
}

} // namespace evenclose
