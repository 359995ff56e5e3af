#include "scene/documents/drive_document.hpp"

#include "scene/documents/height_table.hpp"
#include "scene/documents/name_register.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

constexpr NumberRange kTolerance{0, 0.5, "one from 0 to 0.5, such as 0.02 or \"2 %\""};
constexpr NumberRange kGearRatio{1e-3, 1e5, "one above 0: turns of the motor for one turn of the screw"};
constexpr double kSteelShear_MPa = 79'300; // REFERENCE 5e
constexpr double kDegree = 0.017453292519943295;

bool is_pumped(const Jack& jack) {
    return std::holds_alternative<CylinderJack>(jack.kind) || std::holds_alternative<HoseJack>(jack.kind);
}

Drive read_drive(ObjectCursor& object, std::span<const std::string_view> jack_names, const Press& press) {
    Drive drive;
    drive.name = object.text("name");
    drive.jacks = object.choices("jacks", jack_names, 1, jack_names.size(), "jack");
    drive.tolerance = object.fraction("tolerance", kTolerance);
    const bool pumped = !drive.jacks.empty() && is_pumped(press.jacks[drive.jacks.front()]);
    for (const std::size_t jack : drive.jacks) {
        if (is_pumped(press.jacks[jack]) != pumped) {
            object.refuse("jacks", "are screws and cylinders or hoses at once", "a motor turns, a pump fills");
            return drive;
        }
    }
    const auto refuse_other = [&](std::string_view key) {
        object.refuse(key, pumped ? "does not go with cylinders and hoses" : "does not go with screws",
                      pumped ? "a pump has \"flow\" and \"pressure_limit\""
                             : "a motor has \"speed\" and \"torque_limit\"");
    };
    if (drive.jacks.empty()) { // told already; which words are right cannot be
        return drive;
    }
    if (pumped) {
        drive.speed = object.flow_mm3_a_second("flow");
        if (object.has("pressure_limit")) {
            drive.limit = object.pressure_MPa("pressure_limit");
        }
        for (const std::string_view key : {"speed", "gear_ratio", "torque_limit"}) {
            refuse_other(key);
        }
        return drive;
    }
    drive.speed = object.turns_a_second("speed");
    drive.gear_ratio = object.fraction("gear_ratio", kGearRatio, 1.0);
    if (object.has("torque_limit")) {
        drive.limit = object.torque_Nmm("torque_limit");
    }
    for (const std::string_view key : {"flow", "pressure_limit"}) {
        refuse_other(key);
    }
    return drive;
}

ShaftSection read_shaft_section(ObjectCursor& object) {
    const std::string_view form = object.one_of({"rod", "tube", "box"});
    if (form == "rod") {
        return RoundShaft{object.length_mm("rod", kPositive), 0};
    }
    if (form == "tube") {
        const auto size = object.lengths_mm("tube", {"outside diameter", "wall"}, kPositive);
        if (2 * size[1] >= size[0]) {
            object.refuse_item("tube", 1, "is too thick a wall",
                               "it must be less than half the diameter; a solid bar is { \"rod\": diameter }");
        }
        return RoundShaft{size[0], size[0] - 2 * size[1]};
    }
    if (form == "box") {
        const auto size = object.lengths_mm("box", {"width", "depth", "wall"}, kPositive);
        if (4 * size[2] > std::min(size[0], size[1])) {
            object.refuse_item("box", 2, "is too thick a wall",
                               "Bredt's formula holds for thin ones: at most a quarter of width and depth");
        }
        return BoxShaft{size[0], size[1], size[2]};
    }
    return RoundShaft{};
}

Coupling read_coupling(ObjectCursor object) {
    if (object.one_of({"clearance", "play"}) == "play") {
        object.refuse("radius", "does not go with \"play\"", "an angle needs no radius");
        const double play = object.angle_rad("play");
        if (play < 0 || play > 90 * kDegree) {
            object.refuse("play", "is no play", "give one from 0 to 90 deg, from one stop to the other");
        }
        return AngleCoupling{play};
    }
    const double clearance = object.length_mm("clearance", kZeroOrMore);
    const double radius = object.length_mm("radius", kPositive);
    if (clearance >= radius) {
        object.refuse("clearance", "is no less than the radius", "give by how much the hole is wider than its pin");
    }
    return PinCoupling{clearance, radius};
}

ShaftLink read_link(ObjectCursor& object, std::span<const std::string_view> jack_names, const Press& press) {
    ShaftLink link;
    link.name = object.text("name");
    const std::vector<std::size_t> between = object.choices("between", jack_names, 2, 2, "jack");
    link.shaft.section = read_shaft_section(object);
    link.shaft.length_mm = object.length_mm("length", kPositive);
    link.shaft.shear_modulus_MPa = object.has("shear_modulus") ? object.pressure_MPa("shear_modulus") : kSteelShear_MPa;
    for (ObjectCursor& coupling : object.objects("couplings", "coupling", 0, "the couplings")) {
        link.shaft.couplings.push_back(read_coupling(std::move(coupling)));
    }
    if (object.has("height")) {
        link.height_mm = object.length_mm("height", kZeroOrMore);
    }
    if (between.size() == 2) {
        link.from = between[0];
        link.to = between[1];
        const Jack& a = press.jacks[link.from];
        const Jack& b = press.jacks[link.to];
        if (is_pumped(a) || is_pumped(b)) {
            object.refuse("between", "are not both turned by a screw", "a shaft couples screw or scissor jacks");
        } else if (a.kind.index() != b.kind.index()) {
            object.refuse("between", "are not of one kind", "their screws would have to lie at one height throughout");
        } else if (std::holds_alternative<ScissorJack>(a.kind)) {
            object.refuse("height", "does not go with scissor jacks", "the shaft lies where their screws lie");
        }
    }
    return link;
}

/// Which jacks hang together, each by the least index it is joined to.
class Joined {
public:
    explicit Joined(std::size_t count) : to_(count) {
        for (std::size_t i = 0; i < count; ++i) {
            to_[i] = i;
        }
    }
    [[nodiscard]] std::size_t root(std::size_t i) const { return to_[i] == i ? i : root(to_[i]); }
    /// False if they are joined already.
    bool join(std::size_t a, std::size_t b) {
        const std::size_t x = root(a);
        const std::size_t y = root(b);
        to_[std::max(x, y)] = std::min(x, y);
        return x != y;
    }

private:
    std::vector<std::size_t> to_;
};

void check_all_driven(ObjectCursor& document, std::vector<ObjectCursor>& links, const Press& press) {
    Joined joined(press.jacks.size());
    std::vector<bool> driven(press.jacks.size(), false);
    for (const Drive& drive : press.drives) {
        for (const std::size_t jack : drive.jacks) {
            driven[jack] = true;
        }
    }
    for (std::size_t i = 0; i < press.link_shafts.size(); ++i) {
        const ShaftLink& link = press.link_shafts[i];
        if (link.from != link.to && !joined.join(link.from, link.to)) {
            links[i].refuse("between", "are coupled already by other shafts", "leave out one shaft of the ring");
        }
    }
    if (press.drives.empty()) {
        return;
    }
    for (std::size_t jack = 0; jack < press.jacks.size(); ++jack) {
        bool turned = false;
        for (std::size_t other = 0; other < press.jacks.size(); ++other) {
            turned = turned || (driven[other] && joined.root(other) == joined.root(jack));
        }
        if (!turned && !press.jacks[jack].name.empty()) {
            document.refuse("drives", fmt::format("leaves out {}", press.jacks[jack].name),
                            "name it in a drive, or couple it by a link shaft to one that is");
        }
    }
}

} // namespace

void read_drives(DocumentSource& source, ObjectCursor& document, Press& press, const std::vector<bool>& kinds_known) {
    if (std::find(kinds_known.begin(), kinds_known.end(), false) != kinds_known.end()) {
        return; // what may be coupled with what is not known
    }
    std::vector<std::string_view> jack_names;
    for (const Jack& jack : press.jacks) {
        jack_names.push_back(jack.name);
    }
    bool whole = true; // nothing follows from a fault
    NameRegister drive_names;
    std::vector<bool> taken(press.jacks.size(), false);
    for (ObjectCursor& object : document.objects("drives", "drive", 0, "the drives")) {
        Drive drive = read_drive(object, jack_names, press);
        drive_names.enter(object, drive.name);
        for (const std::size_t jack : drive.jacks) {
            if (taken[jack]) {
                object.refuse("jacks", fmt::format("names {}, which another drive has", jack_names[jack]),
                              "a jack has one drive");
            }
            taken[jack] = true;
        }
        whole = whole && !drive.jacks.empty();
        press.drives.push_back(std::move(drive));
    }
    NameRegister link_names;
    std::vector<ObjectCursor> links = document.objects("link_shafts", "link_shaft", 0, "the link shafts");
    for (ObjectCursor& object : links) {
        press.link_shafts.push_back(read_link(object, jack_names, press));
        link_names.enter(object, press.link_shafts.back().name);
        whole = whole && press.link_shafts.back().from != press.link_shafts.back().to;
    }
    if (whole) {
        check_all_driven(document, links, press);
    }
    if (document.has("measured_heights")) {
        ObjectCursor object = document.object("measured_heights", "measured_heights");
        press.measured_heights = read_measured_heights(source, object, press.jacks);
    }
}

} // namespace evenclose
