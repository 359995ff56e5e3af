#include "scene/documents/document_keys.hpp"

#include <algorithm>
#include <cassert>

namespace evenclose {
namespace {

using Word = std::string_view;

constexpr Word kPress[] = {"evenclose", "version",   "unit",   "note",   "name",        "members",          "head",
                           "platen",    "jacks",     "guides", "drives", "link_shafts", "measured_heights", "load_from",
                           "joints",    "materials", "rests"};
constexpr Word kMaterial[] = {"name",    "kind",        "E",       "E_across", "G",     "density", "bending",
                              "tension", "compression", "bearing", "shear",    "yield", "source",  "replaces"};
constexpr Word kBolts[] = {"count", "diameter", "grade"};
constexpr Word kMember[] = {"name", "from", "to", "section", "roll", "material"};
constexpr Word kSection[] = {"timber",      "angle",      "tube",          "pipe", "rod",          "plate",  "mesh",
                             "root_radius", "toe_radius", "corner_radius", "unit", "side_by_side", "stacked"};
constexpr Word kPart[] = {"timber", "angle",       "tube",       "pipe",          "rod",
                          "plate",  "root_radius", "toe_radius", "corner_radius", "material"};
constexpr Word kHead[] = {"underside", "size", "thickness", "centre", "material", "mesh", "mesh_unit"};
constexpr Word kPlaten[] = {"size", "thickness", "centre", "material", "mesh", "mesh_unit", "mass"};
constexpr Word kJack[] = {"name",          "foot",           "closed_height", "parked",         "stroke",
                          "rated_load",    "moving_mass",    "rate",          "rate_tolerance", "lead",
                          "body_diameter", "screw_diameter", "head_diameter", "head_thickness", "thread",
                          "scissor",       "cylinder",       "hose"};
constexpr Word kThread[] = {"form", "starts", "friction", "collar_friction", "collar_diameter"};
constexpr Word kScissor[] = {"arm",       "stages",         "one_nut",    "base_height", "head_height",
                             "foot_size", "head_size",      "link_width", "link_depth",  "direction",
                             "lead",      "screw_diameter", "thread"};
constexpr Word kCylinder[] = {"bore", "rod", "body_diameter", "head_diameter", "head_thickness"};
constexpr Word kHose[] = {"free_diameter", "length", "direction"};
constexpr Word kGuide[] = {
    "name",      "at",      "post_diameter", "bore", "sleeve_diameter", "length", "sleeve_below_top",
    "post_from", "post_to", "friction"};
constexpr Word kDrive[] = {"name",      "jacks",      "speed",        "flow",
                           "tolerance", "gear_ratio", "torque_limit", "pressure_limit"};
constexpr Word kLinkShaft[] = {"name", "between",       "length",    "rod",   "tube",
                               "box",  "shear_modulus", "couplings", "height"};
constexpr Word kCoupling[] = {"clearance", "radius", "play"};
constexpr Word kMeasuredHeights[] = {"file", "rows", "spread"};
constexpr Word kJoint[] = {"between", "how", "bolts"};
constexpr Word kMeasuredRow[] = {"travel", "heads"};
constexpr ObjectKeys kPressObjects[] = {{"press", kPress},
                                        {"member", kMember},
                                        {"section", kSection},
                                        {"part", kPart},
                                        {"material", kMaterial},
                                        {"head", kHead},
                                        {"platen", kPlaten},
                                        {"jack", kJack},
                                        {"thread", kThread},
                                        {"scissor", kScissor},
                                        {"cylinder", kCylinder},
                                        {"hose", kHose},
                                        {"guide", kGuide},
                                        {"drive", kDrive},
                                        {"link_shaft", kLinkShaft},
                                        {"coupling", kCoupling},
                                        {"measured_heights", kMeasuredHeights},
                                        {"measured_row", kMeasuredRow},
                                        {"joint", kJoint},
                                        {"bolts", kBolts}};

constexpr Word kMold[] = {"evenclose",   "version",   "unit",         "note",  "name",    "lower", "upper",
                          "shut_height", "deck_size", "deck_outline", "stack", "loading", "print"};
constexpr Word kOutline[] = {"file", "unit", "offset", "turn"};
constexpr Word kHalf[] = {"mesh", "unit", "offset", "turn", "flip", "block", "seat_centre", "material"};
constexpr Word kStack[] = {"plies", "glue_line", "squeeze", "glue_pressure", "glue"};
constexpr Word kGlue[] = {"name", "spread", "open_time", "closed_time", "press_times", "post_cure"};
constexpr Word kPressTime[] = {"at", "time"};
constexpr Word kPly[] = {"thickness", "species", "grain", "bend_radius", "bend_radius_across", "count"};
constexpr Word kPrint[] = {"build_volume", "fill", "wall", "cost_a_kilo"};
constexpr ObjectKeys kMoldObjects[] = {
    {"mold", kMold}, {"outline", kOutline}, {"half", kHalf}, {"stack", kStack},
    {"ply", kPly},   {"print", kPrint},     {"glue", kGlue}, {"press_time", kPressTime}};

constexpr Word kSetup[] = {
    "evenclose", "version",       "unit",        "note", "name", "press", "openings",
    "limits",    "closing_force", "temperature", "crew", "shop", "costs", "intermediate_platens"};
constexpr Word kOpening[] = {"mold", "at", "turn", "decks"};
constexpr Word kIntermediatePlaten[] = {"size",      "thickness", "centre", "material", "mesh",
                                        "mesh_unit", "mass",      "guided", "rest",     "count"};
constexpr Word kLimits[] = {"running_clearance", "loading_clearance", "stroke_reserve",   "level_over_deck",
                            "seat_flatness",     "seat_overhang",     "cavity_tolerance", "least_draft"};
constexpr Word kCrew[] = {"spread", "stack", "load", "unload", "close", "helpers"};
constexpr Word kShop[] = {"hours_a_day", "days_a_week", "presses", "molds", "racks"};
constexpr Word kCosts[] = {"mold", "platen", "frame_a_metre", "press", "hour"};
constexpr ObjectKeys kSetupObjects[] = {
    {"set-up", kSetup}, {"opening", kOpening}, {"limits", kLimits}, {"intermediate_platen", kIntermediatePlaten},
    {"crew", kCrew},    {"shop", kShop},       {"costs", kCosts}};

} // namespace

std::string_view name_of(DocumentKind kind) {
    switch (kind) {
    case DocumentKind::press:
        return "press";
    case DocumentKind::mold:
        return "mold";
    case DocumentKind::setup:
        break;
    }
    return "set-up";
}

std::span<const ObjectKeys> keys_of(DocumentKind kind) {
    switch (kind) {
    case DocumentKind::press:
        return kPressObjects;
    case DocumentKind::mold:
        return kMoldObjects;
    case DocumentKind::setup:
        break;
    }
    return kSetupObjects;
}

const ObjectKeys& keys_of(DocumentKind kind, std::string_view object) {
    const std::span<const ObjectKeys> objects = keys_of(kind);
    const auto found = std::find_if(objects.begin(), objects.end(),
                                    [&](const ObjectKeys& candidate) { return candidate.object == object; });
    assert(found != objects.end());
    return *found;
}

} // namespace evenclose
