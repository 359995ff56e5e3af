#include "scene/documents/press_document.hpp"

#include "scene/documents/drive_document.hpp"
#include "scene/documents/jack_document.hpp"
#include "scene/documents/material_document.hpp"
#include "scene/documents/name_register.hpp"
#include "scene/documents/plate_document.hpp"
#include "scene/setup/setup.hpp"

#include <fmt/format.h>

#include <glm/geometric.hpp>

#include <cmath>
#include <utility>

namespace evenclose {
namespace {

Member read_member(DocumentSource& source, ObjectCursor object, MeshShelf& shelf) {
    Member member;
    member.name = object.text("name");
    member.a_mm = object.vec3_mm("from", {"x", "y", "z"}, kAnyLength);
    member.section = read_section(source, object.object("section", "section"), shelf);
    const auto* mesh = std::get_if<MeshSection>(&member.section);
    if (mesh != nullptr && !object.has("to")) {
        member.b_mm = member.a_mm; // a mesh stands where its origin is put, and has its own length
    } else {
        member.b_mm = object.vec3_mm("to", {"x", "y", "z"}, kAnyLength);
        if (mesh == nullptr && glm::distance(member.a_mm, member.b_mm) < kThinnest_mm) {
            object.refuse("to", "is where it starts", "a member goes from one place to another");
        }
    }
    member.roll_rad = object.angle_rad("roll", 0.0);
    member.material = object.text("material", "");
    return member;
}

Guide read_guide(ObjectCursor object) {
    Guide guide;
    guide.name = object.text("name");
    guide.at_mm = object.vec2_mm("at", {"x", "y"}, kAnyLength);
    guide.post_diameter_mm = object.length_mm("post_diameter", kPositive);
    guide.bore_diameter_mm = object.length_mm("bore", kPositive);
    guide.sleeve_outside_diameter_mm = object.length_mm("sleeve_diameter", kPositive);
    guide.length_mm = object.length_mm("length", kPositive);
    guide.sleeve_below_top_mm = object.length_mm("sleeve_below_top", kAnyLength, 0.0);
    guide.post_from_z_mm = object.length_mm("post_from", kAnyLength);
    guide.post_to_z_mm = object.length_mm("post_to", kAnyLength);
    if (object.has("friction")) {
        guide.friction = object.fraction("friction", kFriction);
    }
    if (guide.bore_diameter_mm < guide.post_diameter_mm) {
        object.refuse("bore", "is less than the post", "the sleeve must go over the post");
    }
    if (guide.sleeve_outside_diameter_mm <= guide.bore_diameter_mm) {
        object.refuse("sleeve_diameter", "leaves no wall around the bore", "give more than the bore");
    }
    if (guide.post_to_z_mm <= guide.post_from_z_mm) {
        object.refuse("post_to", "is not above where the post starts", "give more than post_from");
    }
    return guide;
}

Bolts read_bolts(ObjectCursor object) {
    constexpr int kMostBolts = 1000; // far beyond any joint: a mistaken number
    Bolts bolts;
    bolts.count = object.count("count", 1, kMostBolts, 1);
    bolts.diameter_mm = object.length_mm("diameter", kPositive);
    bolts.grade = object.text("grade", "");
    return bolts;
}

void read_joints(ObjectCursor& document, Press& press) {
    constexpr std::string_view kKinds[] = {"welded", "bolted", "bearing", "none"}; // in the order of JointKind
    std::vector<std::string_view> names{"head"};
    for (const Member& member : press.members) {
        names.push_back(member.name);
    }
    for (ObjectCursor& object : document.objects("joints", "joint", 0, "the joints")) {
        const std::vector<std::size_t> between = object.choices("between", names, 2, 2, "member");
        const auto kind = static_cast<JointKind>(object.choice("how", kKinds));
        std::optional<Bolts> bolts;
        if (object.has("bolts")) {
            bolts = read_bolts(object.object("bolts", "bolts"));
            if (kind != JointKind::bolted) {
                object.refuse("bolts", fmt::format("does not go with \"{}\"", name_of(kind)),
                              "it belongs to \"how\": \"bolted\"");
            }
        }
        if (between.size() == 2) {
            press.joints.push_back({std::string{names[between[0]]}, std::string{names[between[1]]}, kind, bolts});
        }
    }
}

void read_rests(ObjectCursor& document, Press& press) {
    if (!document.has("rests")) {
        return;
    }
    press.rests_z_mm = document.length_list_mm("rests", 1, kMostOpenings - 1, kPositive);
    for (std::size_t i = 1; i < press.rests_z_mm.size(); ++i) {
        if (press.rests_z_mm[i] <= press.rests_z_mm[i - 1]) {
            document.refuse_item("rests", i, "is not above the one before",
                                 "give the heights of the rests from the bottom up");
        }
    }
}

Press read_all(DocumentSource& source, MeshShelf& shelf) {
    ObjectCursor document{source};
    document.read_preamble();
    Press press;
    press.name = document.text("name");
    press.materials = read_materials(document);
    NameRegister member_names{
        {{"head", "the head itself"}, {"platen", "the platen itself"}, {"floor", "the floor itself"}}};
    for (ObjectCursor& object : document.objects("members", "member", 0, "the members of the frame")) {
        press.members.push_back(read_member(source, object, shelf));
        member_names.enter(object, press.members.back().name);
    }
    ObjectCursor head = document.object("head", "head");
    press.head = read_plate(source, head, shelf);
    press.head_underside_z_mm = head.length_mm("underside", kPositive);
    ObjectCursor platen = document.object("platen", "platen");
    press.platen = read_plate(source, platen, shelf);
    const std::vector<bool> kinds_known = read_jacks(document, press);
    NameRegister guide_names;
    for (ObjectCursor& object : document.objects("guides", "guide", 0, "the guides")) {
        press.guides.push_back(read_guide(object));
        guide_names.enter(object, press.guides.back().name);
    }
    read_drives(source, document, press, kinds_known);
    if (document.has("load_from")) {
        constexpr std::string_view kSides[] = {"front", "back", "left", "right"}; // in the order of PressSide
        press.load_from = static_cast<PressSide>(document.choice("load_from", kSides));
    }
    read_rests(document, press);
    read_joints(document, press);
    return press;
}

} // namespace

Loaded<Press> read_press(const std::filesystem::path& file, MeshShelf& shelf, const DocumentTexts& texts) {
    DocumentSource source{file, DocumentKind::press, texts};
    Loaded<Press> loaded;
    if (source.root() != nullptr) {
        loaded.value = read_all(source, shelf);
        loaded.value->file = file.string();
    }
    loaded.faults = source.take_faults();
    loaded.notes = source.take_notes();
    if (!loaded.faults.empty()) {
        loaded.value.reset();
    }
    return loaded;
}

} // namespace evenclose
