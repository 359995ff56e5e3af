#include "scene/documents/setup_document.hpp"

#include "scene/documents/mold_document.hpp"
#include "scene/documents/named_file.hpp"
#include "scene/documents/plate_document.hpp"
#include "scene/documents/press_document.hpp"

#include <fmt/format.h>

#include <iterator>
#include <map>
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

/// Molds that openings name, each document read once; and once for each number of decks in it.
class MoldShelf {
public:
    MoldShelf(DocumentSource& source, MeshShelf& meshes, const DocumentTexts& texts, std::vector<std::string>& notes)
        : source_(source), meshes_(meshes), texts_(texts), notes_(notes) {}

    [[nodiscard]] std::shared_ptr<const Mold> take(ObjectCursor& object, std::string& written, int decks) {
        written = object.text("mold");
        if (written.empty()) {
            return nullptr;
        }
        const std::filesystem::path file = source_.resolve(written).lexically_normal();
        const auto known = molds_.find({file, 1});
        std::shared_ptr<const Mold> mold =
            known != molds_.end()
                ? known->second
                : read_named<Mold>(source_, object, "mold", written, notes_, [&](const std::filesystem::path& named) {
                      return read_mold(named, meshes_, texts_);
                  });
        molds_[{file, 1}] = mold;
        if (mold == nullptr || decks == 1) {
            return mold;
        }
        std::shared_ptr<const Mold>& several = molds_[{file, decks}];
        if (several == nullptr) {
            several = std::make_shared<const Mold>(with_decks(*mold, decks));
        }
        return several;
    }

private:
    DocumentSource& source_;
    MeshShelf& meshes_;
    const DocumentTexts& texts_;
    std::vector<std::string>& notes_;
    std::map<std::pair<std::filesystem::path, int>, std::shared_ptr<const Mold>> molds_;
};

// More blanks on one another than this slide on each other before they are pressed (common practice, no source).
constexpr int kMostDecks = 10;

void read_intermediate_platens(DocumentSource& source, ObjectCursor& document, MeshShelf& shelf, Setup& setup) {
    const std::size_t openings = setup.openings.size();
    if (openings == 0 || (openings == 1 && !document.has("intermediate_platens"))) {
        return;
    }
    const std::string wanted = fmt::format("{} for {} openings: one lies between two of them",
                                           openings == 2 ? "one" : fmt::format("{}", openings - 1), openings);
    if (openings < 2) {
        document.refuse("intermediate_platens", "has nothing to lie between",
                        "one opening closes between platen and head; leave it out");
        return;
    }
    bool of_many = false;
    for (ObjectCursor& object : document.objects("intermediate_platens", "intermediate_platen", 1, wanted)) {
        IntermediatePlaten platen;
        platen.plate = read_plate(source, object, shelf);
        platen.guided = object.yes_no("guided", true);
        if (object.has("rest")) {
            platen.rest_z_mm = object.length_mm("rest", kPositive);
        }
        const int count = object.count("count", 1, static_cast<int>(kMostOpenings) - 1, 1);
        if (count > 1 && platen.rest_z_mm) {
            object.refuse("rest", fmt::format("is one height for {} platens", count),
                          "leave it out (they are spaced evenly, or lie on the press's rests), or list each by itself");
        }
        of_many = of_many || count > 1;
        setup.intermediate_platens.insert(setup.intermediate_platens.end(), static_cast<std::size_t>(count), platen);
    }
    if (!setup.intermediate_platens.empty() && setup.intermediate_platens.size() + 1 != openings) {
        document.refuse("intermediate_platens",
                        of_many ? fmt::format("comes to {}", setup.intermediate_platens.size())
                                : "is not as many as it takes",
                        fmt::format("give {}", wanted));
    }
}

Setup read_all(DocumentSource& source, MeshShelf& shelf, const DocumentTexts& texts, std::vector<std::string>& notes) {
    ObjectCursor document{source};
    document.read_preamble();
    Setup setup;
    setup.name = document.text("name");
    setup.press = read_named<Press>(source, document, "press", setup.press_file, notes,
                                    [&](const std::filesystem::path& file) { return read_press(file, shelf, texts); });
    std::vector<ObjectCursor> openings = document.objects("openings", "opening", 1, "one opening or more");
    if (openings.size() > kMostOpenings) {
        document.refuse("openings", "is too many", fmt::format("give {} at most", kMostOpenings));
    }
    MoldShelf molds(source, shelf, texts, notes);
    for (ObjectCursor& object : openings) {
        Opening opening;
        opening.at_mm = object.vec2_mm("at", {"x", "y"}, kAnyLength, 0.0);
        opening.turn_rad = object.angle_rad("turn", 0.0);
        opening.decks = object.count("decks", 1, kMostDecks, 1);
        opening.mold = molds.take(object, opening.mold_file, opening.decks);
        setup.openings.push_back(std::move(opening));
    }
    read_intermediate_platens(source, document, shelf, setup);
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

Loaded<Setup> read_setup(const std::filesystem::path& file, MeshShelf& shelf, const DocumentTexts& texts) {
    DocumentSource source{file, DocumentKind::setup, texts};
    Loaded<Setup> loaded;
    if (source.root() != nullptr) {
        loaded.value = read_all(source, shelf, texts, loaded.notes);
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
