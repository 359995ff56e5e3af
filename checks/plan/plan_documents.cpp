#include "checks/plan/plan_documents.hpp"

#include "checks/plan/taller_press.hpp"
#include "scene/documents/atomic_write.hpp"
#include "scene/documents/document_text.hpp"

#include <fmt/format.h>

#include <cmath>
#include <system_error>
#include <utility>

namespace evenclose {
namespace {

namespace fs = std::filesystem;

std::string from_folder(const fs::path& file, const fs::path& folder) {
    std::error_code error;
    const fs::path there = fs::weakly_canonical(fs::absolute(file), error);
    const fs::path here = fs::weakly_canonical(fs::absolute(folder), error);
    const fs::path relative = there.lexically_relative(here);
    return (relative.empty() ? there : relative).generic_string();
}

/// Enough digits for a tenth of a micron; whole numbers stay whole.
std::string number(double value) { return json_number(std::round(value * 1e4) / 1e4); }

/// As a length of the document: bare where bare numbers are millimetres there.
std::string length_in(const DocumentText& document, double mm) {
    const std::string_view unit = document.typed_at("unit").value_or("\"mm\"");
    return unit == "\"mm\"" ? number(mm) : json_text(number(mm) + " mm");
}

std::string seconds(double s) { return json_text(number(s) + " s"); }

std::string plate_text(const IntermediatePlaten& platen, const fs::path& folder) {
    const Platen& plate = platen.plate;
    std::string text = fmt::format(R"({{ "size": [{}, {}], "thickness": {})", number(plate.size_mm.x),
                                   number(plate.size_mm.y), number(plate.thickness_mm));
    if (plate.centre_mm != Vec2{0.0}) {
        text += fmt::format(R"(, "centre": [{}, {}])", number(plate.centre_mm.x), number(plate.centre_mm.y));
    }
    text += plate.material.empty() ? "" : fmt::format(R"(, "material": {})", json_text(plate.material));
    text += plate.mass_kg ? fmt::format(R"(, "mass": {})", json_text(number(*plate.mass_kg) + " kg")) : "";
    if (!plate.mesh_file.empty()) {
        text += fmt::format(R"(, "mesh": {})", json_text(from_folder(plate.mesh_file, folder)));
        text += plate.mesh_unit ? fmt::format(R"(, "mesh_unit": {})", json_text(*plate.mesh_unit)) : "";
    }
    text += platen.guided ? "" : R"(, "guided": false)";
    text += platen.rest_z_mm ? fmt::format(R"(, "rest": {})", number(*platen.rest_z_mm)) : "";
    return text + " }";
}

std::string crew_text(const CrewPace& crew) {
    return fmt::format(R"({{ "spread": {}, "stack": {}, "load": {}, "unload": {}, "close": {}, "helpers": {} }})",
                       seconds(crew.spread_s), seconds(crew.stack_s), seconds(crew.load_s), seconds(crew.unload_s),
                       seconds(crew.close_s), crew.helpers);
}

std::string shop_text(const Workshop& shop) {
    return fmt::format(R"({{ "hours_a_day": {}, "days_a_week": {}, "presses": {}{}{} }})", number(shop.hours_a_day),
                       shop.days_a_week, shop.presses, shop.molds ? fmt::format(R"(, "molds": {})", *shop.molds) : "",
                       shop.racks ? fmt::format(R"(, "racks": {})", *shop.racks) : "");
}

std::string costs_text(const Costs& costs) {
    std::string text;
    const auto add = [&](const char* key, const std::optional<double>& money) {
        if (money) {
            text += fmt::format(R"({}"{}": {})", text.empty() ? "" : ", ", key, number(*money));
        }
    };
    add("mold", costs.mold);
    add("platen", costs.platen);
    add("frame_a_metre", costs.frame_a_metre);
    add("press", costs.press);
    add("hour", costs.hour);
    return text.empty() ? "" : "{ " + text + " }";
}

std::string limits_text(const Limits& limits) {
    return fmt::format(R"({{ "running_clearance": {}, "loading_clearance": {}, "stroke_reserve": {},
    "level_over_deck": {}, "seat_flatness": {}, "seat_overhang": {}, "cavity_tolerance": {}, "least_draft": "{} rad" }})",
                       number(limits.running_clearance_mm), number(limits.loading_clearance_mm),
                       number(limits.stroke_reserve_mm), number(limits.level_over_deck_mm),
                       number(limits.seat_flatness_mm), number(limits.seat_overhang_mm),
                       number(limits.cavity_tolerance_mm), json_number(limits.least_draft_rad));
}

/// One edit after the other; the first that fails is told, and the rest left.
class Edits {
public:
    explicit Edits(DocumentText& document) : document_(document) {}
    void set(const std::string& place, const std::string& json) {
        if (fault_.empty()) {
            fault_ = document_.set(place, json).value_or("");
        }
    }
    void rename_file(const std::string& place, const std::string& written, const fs::path& from,
                     const fs::path& folder) {
        if (!written.empty()) {
            set(place,
                json_text(from_folder(fs::path(written).is_absolute() ? fs::path(written) : from / written, folder)));
        }
    }
    [[nodiscard]] const std::string& fault() const { return fault_; }

private:
    DocumentText& document_;
    std::string fault_;
};

} // namespace

std::string setup_document(const Setup& setup, const fs::path& press_file, const fs::path& folder) {
    std::string text =
        fmt::format("{{\n  \"evenclose\": \"set-up\",\n  \"version\": 1,\n  \"name\": {},\n  \"press\": {},\n",
                    json_text(setup.name), json_text(from_folder(press_file, folder)));
    std::string openings;
    for (const Opening& opening : setup.openings) {
        openings += fmt::format(R"({}    {{ "mold": {})", openings.empty() ? "" : ",\n",
                                json_text(from_folder(opening.mold->file, folder)));
        if (opening.at_mm != Vec2{0.0}) {
            openings += fmt::format(R"(, "at": [{}, {}])", number(opening.at_mm.x), number(opening.at_mm.y));
        }
        openings += opening.turn_rad != 0 ? fmt::format(R"(, "turn": "{} rad")", json_number(opening.turn_rad)) : "";
        openings += opening.decks > 1 ? fmt::format(R"(, "decks": {})", opening.decks) : "";
        openings += " }";
    }
    text += fmt::format("  \"openings\": [\n{}\n  ],\n", openings);
    std::string platens;
    for (const IntermediatePlaten& platen : setup.intermediate_platens) {
        platens += fmt::format("{}    {}", platens.empty() ? "" : ",\n", plate_text(platen, folder));
    }
    text += platens.empty() ? "" : fmt::format("  \"intermediate_platens\": [\n{}\n  ],\n", platens);
    text += setup.closing_force_N
                ? fmt::format("  \"closing_force\": {},\n", json_text(number(*setup.closing_force_N) + " N"))
                : "";
    text += setup.temperature_C
                ? fmt::format("  \"temperature\": {},\n", json_text(number(*setup.temperature_C) + " C"))
                : "";
    text += setup.crew ? fmt::format("  \"crew\": {},\n", crew_text(*setup.crew)) : "";
    text += fmt::format("  \"shop\": {},\n", shop_text(setup.shop));
    const std::string costs = costs_text(setup.costs);
    text += costs.empty() ? "" : fmt::format("  \"costs\": {},\n", costs);
    return text + fmt::format("  \"limits\": {}\n}}\n", limits_text(setup.limits));
}

PressDocument taller_document(const Press& press, const PressChange& change, double stronger, const std::string& name,
                              const fs::path& folder) {
    auto read = DocumentText::read(press.file);
    if (const auto* faults = std::get_if<std::vector<DocumentFault>>(&read)) {
        return {"", faults->empty() ? press.file + ": cannot be read" : faults->front().sentence()};
    }
    DocumentText& document = std::get<DocumentText>(read);
    const Press after = taller(press, change, stronger);
    const fs::path from = fs::path(press.file).parent_path();
    const auto millimetres = [&](double mm) { return length_in(document, mm); };
    Edits edits(document);
    edits.set("name", json_text(name));
    edits.set("head.underside", millimetres(after.head_underside_z_mm));
    edits.rename_file("head.mesh", press.head.mesh_file, from, folder);
    edits.rename_file("platen.mesh", press.platen.mesh_file, from, folder);
    for (std::size_t i = 0; i < press.members.size(); ++i) {
        const std::string place = fmt::format("members[{}]", i);
        const Member& before = press.members[i];
        if (after.members[i].a_mm.z != before.a_mm.z) {
            edits.set(place + ".from[2]", millimetres(after.members[i].a_mm.z));
        }
        const auto* mesh = std::get_if<MeshSection>(&before.section);
        if (mesh != nullptr) {
            edits.rename_file(place + ".section.mesh", mesh->file, from, folder);
        }
        if (after.members[i].b_mm.z != before.b_mm.z && document.typed_at(place + ".to[2]")) {
            edits.set(place + ".to[2]", millimetres(after.members[i].b_mm.z));
        }
    }
    for (std::size_t i = 0; i < press.guides.size(); ++i) {
        const std::string place = fmt::format("guides[{}]", i);
        if (after.guides[i].post_from_z_mm != press.guides[i].post_from_z_mm) {
            edits.set(place + ".post_from", millimetres(after.guides[i].post_from_z_mm));
        }
        if (after.guides[i].post_to_z_mm != press.guides[i].post_to_z_mm) {
            edits.set(place + ".post_to", millimetres(after.guides[i].post_to_z_mm));
        }
    }
    for (std::size_t i = 0; i < press.jacks.size(); ++i) {
        const std::string place = fmt::format("jacks[{}]", i);
        if (change.longer_stroke_mm > 0) {
            edits.set(place + ".stroke", millimetres(after.jacks[i].stroke_mm));
            edits.set(place + ".closed_height", millimetres(after.jacks[i].closed_height_mm));
        }
        if (stronger > 1) {
            edits.set(place + ".rated_load", json_text(number(after.jacks[i].rated_load_N) + " N"));
        }
    }
    if (press.measured_heights && document.typed_at("measured_heights.file")) {
        const std::string typed(*document.typed_at("measured_heights.file"));
        edits.rename_file("measured_heights.file", typed.substr(1, typed.size() - 2), from, folder);
    }
    if (document.typed_at("rests")) {
        // The set-up says where the platens rest in the frame as it is now.
        edits.set("note", json_text("Rests as of the press before it was raised; the set-up's own hold."));
    }
    return edits.fault().empty() ? PressDocument{document.text(), ""} : PressDocument{"", edits.fault()};
}

WrittenPlan write_plan(const Plan& plan, const PlanBasis& basis, const fs::path& folder) {
    WrittenPlan written;
    std::error_code error;
    fs::create_directories(folder, error);
    if (error) {
        written.faults.push_back(fmt::format("{}: {}", folder.string(), error.message()));
        return written;
    }
    const auto write = [&](const fs::path& file, const std::string& text) {
        if (const std::optional<std::string> fault = write_file_atomically(file, text)) {
            written.faults.push_back(*fault);
            return false;
        }
        return true;
    };
    const Press& press = *basis.like.press;
    const auto write_offer = [&](const OfferedChoice& offer) {
        fs::path press_file = press.file;
        if (offer.press_changed) {
            press_file = folder / fmt::format("{}-opening{}.press.json", offer.choice.openings,
                                              offer.choice.openings == 1 ? "" : "s");
            const PressDocument document =
                taller_document(press, offer.choice.change, offer.stronger,
                                fmt::format("{}, for {} openings", press.name, offer.choice.openings), folder);
            if (!document.fault.empty()) {
                written.faults.push_back(document.fault);
                return;
            }
            if (!write(press_file, document.text)) {
                return;
            }
        }
        const fs::path file = folder / (offer.name + ".set-up.json");
        if (write(file, setup_document(offer.setup, press_file, folder))) {
            written.setups.push_back(file);
        }
    };
    bool least_is_offered = !plan.least;
    for (const OfferedChoice& offer : plan.offered) {
        write_offer(offer);
        least_is_offered = least_is_offered || offer.name == plan.least->name;
    }
    if (!least_is_offered) {
        write_offer(*plan.least);
    }
    if (plan.fit.stop) {
        const fs::path file = folder / "one-more.set-up.json";
        if (write(file, setup_document(plan.one_more, press.file, folder))) {
            written.one_more = file;
        }
    }
    return written;
}

} // namespace evenclose
