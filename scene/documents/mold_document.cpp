#include "scene/documents/mold_document.hpp"

#include "scene/documents/outline_document.hpp"
#include "scene/mesh/shapes.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <memory>
#include <utility>

namespace evenclose {
namespace {

// Seven veneers make a deck, some dozens a beam (common practice, no source). A mistyped count must not fill the memory.
constexpr std::size_t kMostPlies = 500;
// A tenth of what a printed layer is thick (common practice, no source): nobody draws or measures closer than that.
constexpr double kSameHeight_mm = 0.01;

constexpr NumberRange kShare{0, 1, R"(a share from 0 to 1, such as 0.2 or "20 %")"};
// Sheets ask for 80 to 300 (common practice, no source).
constexpr NumberRange kSpread{1, 5000, "a number of grams a square metre, such as 180"};
constexpr NumberRange kCost{0, 1e9, "0 or a positive number"};

MoldHalf read_half(DocumentSource& source, ObjectCursor half, MeshShelf& shelf) {
    MoldHalf result;
    const std::string_view form = half.one_of({"mesh", "block"});
    for (const std::string_view key : {"unit", "offset", "turn", "flip"}) {
        if (form == "block") {
            half.refuse(key, "does not go with \"block\"", R"(it belongs to "mesh"; a block has "seat_centre")");
        }
    }
    if (form == "mesh") {
        half.refuse("seat_centre", "does not go with \"mesh\"", R"(it belongs to "block"; a mesh has "offset")");
        NamedMesh named = read_named_mesh(source, half, "mesh", "unit", shelf);
        MeshHalf mesh;
        mesh.file = std::move(named.file);
        mesh.unit = std::move(named.unit);
        mesh.offset_mm = half.vec3_mm("offset", {"x", "y", "z"}, kAnyLength, 0.0);
        mesh.turn_rad = half.angle_rad("turn", 0.0);
        mesh.flip = half.yes_no("flip", false);
        if (named.mesh != nullptr) {
            const bool as_drawn = mesh.offset_mm == Vec3{0.0} && mesh.turn_rad == 0 && !mesh.flip;
            result.mesh =
                as_drawn ? named.mesh : std::make_shared<const TriangleMesh>(placed(*named.mesh, placement_of(mesh)));
            result.unit_note = "taken as " + named.unit_note;
        }
        result.shape = std::move(mesh);
    } else if (form == "block") {
        BlockHalf block;
        block.size_mm = half.vec3_mm("block", {"length x", "width y", "height z"}, kPositive);
        block.seat_centre_mm = half.vec2_mm("seat_centre", {"x", "y"}, kAnyLength, 0.0);
        result.shape = block;
    }
    result.material = half.text("material", "");
    return result;
}

Glue read_glue(ObjectCursor object) {
    Glue glue;
    glue.name = object.text("name", "");
    if (object.has("spread")) {
        glue.spread_g_per_m2 = object.fraction("spread", kSpread);
    }
    const auto read = [&](std::string_view key, std::optional<double>& time_s) {
        if (object.has(key)) {
            time_s = object.duration_s(key);
        }
    };
    read("open_time", glue.open_time_s);
    read("closed_time", glue.closed_time_s);
    read("post_cure", glue.post_cure_s);
    if (object.has("press_times")) {
        for (ObjectCursor& row : object.objects("press_times", "press_time", 1, "one or more, by rising temperature")) {
            const PressTime next{row.temperature_C("at"), row.duration_s("time")};
            if (!glue.press_times.empty() && next.temperature_C <= glue.press_times.back().temperature_C) {
                row.refuse("at", "is no warmer than the row before", "give the rows by rising temperature");
            }
            glue.press_times.push_back(next);
        }
    }
    return glue;
}

PlyStack read_stack(ObjectCursor object) {
    constexpr std::array<std::string_view, 2> grains{"along", "across"};
    PlyStack stack;
    std::vector<ObjectCursor> plies = object.objects("plies", "ply", 1, "one ply or more, from the lower half upward");
    bool too_many = false;
    for (ObjectCursor& entry : plies) {
        Ply ply;
        ply.thickness_mm = entry.length_mm("thickness", kPositive);
        ply.species = entry.text("species", "");
        ply.grain = entry.choice("grain", grains) == 0 ? Grain::along : Grain::across;
        if (entry.has("bend_radius")) {
            ply.bend_radius_mm = entry.length_mm("bend_radius", kPositive);
        }
        if (entry.has("bend_radius_across")) {
            ply.bend_radius_across_mm = entry.length_mm("bend_radius_across", kPositive);
        }
        const auto count = static_cast<std::size_t>(entry.count("count", 1, static_cast<int>(kMostPlies), 1));
        if (stack.plies.size() + count > kMostPlies) {
            too_many = true;
        } else {
            stack.plies.insert(stack.plies.end(), count, ply);
        }
    }
    if (too_many) {
        object.refuse("plies", fmt::format("has more than {} plies", kMostPlies), "check the counts");
    }
    stack.glue_line_mm = object.length_mm("glue_line", kZeroOrMore, 0.0);
    const bool is_share =
        object.kind_of("squeeze") == SourceValue::Kind::text && object.text("squeeze").find('%') != std::string::npos;
    stack.squeeze_mm = is_share ? object.fraction("squeeze", kShare) * stack.loose_thickness_mm()
                                : object.length_mm("squeeze", kZeroOrMore, 0.0);
    if (object.has("glue_pressure")) {
        stack.glue_pressure_MPa = object.pressure_MPa("glue_pressure");
    }
    if (object.has("glue")) {
        stack.glue = read_glue(object.object("glue", "glue"));
    }
    if (!plies.empty() && stack.squeeze_mm >= stack.loose_thickness_mm()) {
        object.refuse("squeeze", "is the whole stack or more", "it is how much the stack gives under pressure");
    }
    return stack;
}

PrintJob read_print(ObjectCursor object) {
    PrintJob print;
    if (object.has("build_volume")) {
        print.build_volume_mm = object.vec3_mm("build_volume", {"x", "y", "height"}, kPositive);
    }
    if (object.has("fill")) {
        print.fill = object.fraction("fill", kShare);
    }
    if (object.has("wall")) {
        print.wall_mm = object.length_mm("wall", kZeroOrMore);
    }
    if (object.has("cost_a_kilo")) {
        print.cost_a_kilo = object.fraction("cost_a_kilo", kCost);
    }
    return print;
}

SharedMesh block_mesh(const BlockHalf& block, double bottom_z_mm) {
    const Vec2 half{0.5 * block.size_mm.x, 0.5 * block.size_mm.y};
    return std::make_shared<const TriangleMesh>(box_shape(
        {block.seat_centre_mm - half, bottom_z_mm}, {block.seat_centre_mm + half, bottom_z_mm + block.size_mm.z}));
}

/// Draws the halves that are blocks, and notes where the halves do not meet as the document says.
/// Needs: no fault so far.
void place_halves(DocumentSource& source, ObjectCursor& document, Mold& mold) {
    const auto* lower = std::get_if<BlockHalf>(&mold.lower.shape);
    const auto* upper = std::get_if<BlockHalf>(&mold.upper.shape);
    if (lower != nullptr) {
        mold.lower.mesh = block_mesh(*lower, 0.0);
    }
    const double seat_z = bounds_of(*mold.lower.mesh).low_mm.z;
    const double shut = mold.closed_shut_height_mm();
    if (upper != nullptr) {
        mold.upper.mesh = block_mesh(*upper, seat_z + shut - upper->size_mm.z);
    }
    if (lower != nullptr && upper != nullptr) {
        const double gap = shut - lower->size_mm.z - upper->size_mm.z;
        const double pressed = mold.stack.pressed_thickness_mm();
        if (gap <= 0) {
            document.refuse("shut_height", "is no more than both blocks are high", "they would be inside each other");
        } else if (std::abs(gap - pressed) > kSameHeight_mm) {
            source.note(fmt::format(
                "shut_height: {:.6g} mm leaves {:.6g} mm between the blocks; the pressed stack is {:.6g} mm", shut, gap,
                pressed));
        }
    } else if (upper == nullptr) {
        const double drawn = bounds_of(*mold.upper.mesh).high_mm.z - seat_z;
        if (std::abs(drawn - shut) > kSameHeight_mm) {
            source.note(
                fmt::format("{}: {:.6g} mm, but the halves are drawn {:.6g} mm from seat to seat; nothing was moved",
                            mold.shut_height_mm ? "shut_height" : "lower.block: blocks and stack make a shut height of",
                            shut, drawn));
        }
    }
}

Mold read_all(DocumentSource& source, ObjectCursor& document, MeshShelf& shelf) {
    document.read_preamble();
    Mold mold;
    mold.name = document.text("name");
    mold.lower = read_half(source, document.object("lower", "half"), shelf);
    mold.upper = read_half(source, document.object("upper", "half"), shelf);
    if (document.has("shut_height")) {
        mold.shut_height_mm = document.length_mm("shut_height", kPositive);
    }
    if (document.has("deck_size")) {
        mold.deck_size_mm = document.vec2_mm("deck_size", {"length", "width"}, kPositive);
    }
    if (document.has("deck_outline")) {
        if (document.has("deck_size")) {
            document.refuse("deck_size", "does not go with \"deck_outline\"", "leave one of the two out");
        }
        mold.deck_outline_mm = read_deck_outline(source, document, mold.deck_outline_file);
    }
    if (document.has("print")) {
        mold.print = read_print(document.object("print", "print"));
    }
    mold.stack = read_stack(document.object("stack", "stack"));
    constexpr std::string_view kLoadings[] = {"sandwich", "halves"}; // in the order of Loading
    mold.loading = static_cast<Loading>(document.choice("loading", kLoadings, 0));
    return mold;
}

} // namespace

Pose placement_of(const MeshHalf& half) {
    // Written out, so that a half turn has no rounding in it: (x, -y, -z).
    const Mat3 flip{{1, 0, 0}, {0, half.flip ? -1 : 1, 0}, {0, 0, half.flip ? -1 : 1}};
    const double c = std::cos(half.turn_rad);
    const double s = std::sin(half.turn_rad);
    const Mat3 turn{{c, s, 0}, {-s, c, 0}, {0, 0, 1}};
    return {turn * flip, half.offset_mm};
}

Loaded<Mold> read_mold(const std::filesystem::path& file, MeshShelf& shelf, const DocumentTexts& texts) {
    DocumentSource source{file, DocumentKind::mold, texts};
    Loaded<Mold> loaded;
    if (source.root() != nullptr) {
        ObjectCursor document{source};
        loaded.value = read_all(source, document, shelf);
        loaded.value->file = file.string();
        loaded.faults = source.take_faults();
        if (loaded.faults.empty()) {
            place_halves(source, document, *loaded.value);
            outline_meets_halves(source, document, *loaded.value);
        }
    }
    for (DocumentFault& fault : source.take_faults()) {
        loaded.faults.push_back(std::move(fault));
    }
    loaded.notes = source.take_notes();
    if (!loaded.faults.empty()) {
        loaded.value.reset();
    }
    return loaded;
}

} // namespace evenclose
