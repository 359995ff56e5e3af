#include "scene/documents/setup_document.hpp"

#include "scene/documents/mold_document.hpp"
#include "scene/documents/named_file.hpp"
#include "scene/documents/press_document.hpp"

#include <iterator>
#include <memory>
#include <utility>

namespace evenclose {
namespace {

// A shop of one to three people is what this is for; a mistyped number must not make a schedule without end.
constexpr int kMostPeople = 50;
constexpr int kMostPresses = 50;
constexpr int kMostMolds = 1000;

Limits read_limits(ObjectCursor object) {
    Limits limits; // what a key leaves out stays as it is here
    const auto read = [&](std::string_view key, double& value) { value = object.length_mm(key, kZeroOrMore, value); };
    read("running_clearance", limits.running_clearance_mm);
    read("loading_clearance", limits.loading_clearance_mm);
    read("stroke_reserve", limits.stroke_reserve_mm);
    read("level_over_deck", limits.level_over_deck_mm);
    read("seat_flatness", limits.seat_flatness_mm);
    read("cavity_tolerance", limits.cavity_tolerance_mm);
    read("seat_overhang", limits.seat_overhang_mm);
    limits.least_draft_rad = object.angle_rad("least_draft", limits.least_draft_rad);
    return limits;
}

CrewPace read_crew(ObjectCursor object) {
    CrewPace crew;
    crew.spread_s = object.duration_s("spread");
    crew.stack_s = object.duration_s("stack");
    crew.load_s = object.duration_s("load");
    crew.unload_s = object.duration_s("unload");
    crew.close_s = object.duration_s("close", 0.0);
    crew.helpers = object.count("helpers", 0, kMostPeople, 0);
    return crew;
}

Workshop read_shop(ObjectCursor object) {
    constexpr NumberRange hours{0.5, 24, "one from 0.5 to 24 hours"};
    Workshop shop;
    shop.hours_a_day = object.fraction("hours_a_day", hours, shop.hours_a_day);
    shop.days_a_week = object.count("days_a_week", 1, 7, shop.days_a_week);
    shop.presses = object.count("presses", 1, kMostPresses, shop.presses);
    if (object.has("molds")) {
        shop.molds = object.count("molds", 1, kMostMolds);
    }
    if (object.has("racks")) {
        shop.racks = object.count("racks", 1, kMostMolds);
    }
    return shop;
}

Costs read_costs(ObjectCursor object) {
    constexpr NumberRange cost{0, 1e9, "0 or a positive number"};
    Costs costs;
    const auto read = [&](std::string_view key, std::optional<double>& money) {
        if (object.has(key)) {
            money = object.fraction(key, cost);
        }
    };
    read("mold", costs.mold);
    read("platen", costs.platen);
    read("frame_a_metre", costs.frame_a_metre);
    read("press", costs.press);
    read("hour", costs.hour);
    return costs;
}

/// Reads the document that `key` names; faults and notes of it go to the set-up's. Null if it cannot be used.
template <class T, class Reader>
std::shared_ptr<const T> read_named(DocumentSource& source, ObjectCursor& object, std::string_view key,
                                    std::string& written, std::vector<std::string>& notes, Reader reader) {
    written = object.text(key);
    if (written.empty()) {
        return nullptr;
    }
    if (!named_file_is_there(source, object, key, written)) {
        return nullptr;
    }
    Loaded<T> loaded = reader(source.resolve(written));
    source.add_other(std::move(loaded.faults));
    std::move(loaded.notes.begin(), loaded.notes.end(), std::back_inserter(notes));
    return loaded.value ? std::make_shared<const T>(std::move(*loaded.value)) : nullptr;
}

Setup read_all(DocumentSource& source, MeshShelf& shelf, std::vector<std::string>& notes) {
    ObjectCursor document{source};
    document.read_preamble();
    Setup setup;
    setup.name = document.text("name");
    setup.press = read_named<Press>(source, document, "press", setup.press_file, notes,
                                    [&](const std::filesystem::path& file) { return read_press(file, shelf); });
    std::vector<ObjectCursor> openings = document.objects("openings", "opening", 1, "one opening");
    if (openings.size() > 1) {
        document.refuse("openings", "is more than this program can check so far", "give exactly one opening");
    }
    for (ObjectCursor& object : openings) {
        Opening opening;
        opening.at_mm = object.vec2_mm("at", {"x", "y"}, kAnyLength, 0.0);
        opening.turn_rad = object.angle_rad("turn", 0.0);
        opening.mold = read_named<Mold>(source, object, "mold", opening.mold_file, notes,
                                        [&](const std::filesystem::path& file) { return read_mold(file, shelf); });
        setup.openings.push_back(std::move(opening));
    }
    setup.limits = read_limits(document.object("limits", "limits", true));
    if (document.has("closing_force")) {
        setup.closing_force_N = document.force_N("closing_force");
    }
    if (document.has("temperature")) {
        setup.temperature_C = document.temperature_C("temperature");
    }
    if (document.has("crew")) {
        setup.crew = read_crew(document.object("crew", "crew"));
    }
    setup.shop = read_shop(document.object("shop", "shop", true));
    setup.costs = read_costs(document.object("costs", "costs", true));
    return setup;
}

} // namespace

Loaded<Setup> read_setup(const std::filesystem::path& file, MeshShelf& shelf) {
    DocumentSource source{file, DocumentKind::setup};
    Loaded<Setup> loaded;
    if (source.root() != nullptr) {
        loaded.value = read_all(source, shelf, loaded.notes);
        loaded.value->file = file.string();
    }
    loaded.faults = source.take_faults();
    for (std::string& note : source.take_notes()) {
        loaded.notes.push_back(std::move(note));
    }
    if (!loaded.faults.empty()) {
        loaded.value.reset();
    }
    return loaded;
}

} // namespace evenclose
