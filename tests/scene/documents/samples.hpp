// tests/scene/documents/samples.hpp: documents without a fault, every key of the formats in them (own invention).
#pragma once

#include "scene/documents/documents.hpp"
#include "scene/documents/mesh_shelf.hpp"
#include "scene/mesh/shapes.hpp"

#include <doctest/doctest.h>

#include <string>
#include <string_view>
#include <vector>

namespace evenclose::test {

inline constexpr std::string_view kPressSample = R"(// A press of the tests' own.
{
  "evenclose": "press", "version": 1, "unit": "mm",
  "note": "Every key\nis in here.",
  "name": "Every key",
  "members": [
    { "name": "post", "from": [-400, 0, 0], "to": [-400, 0, 1200], "section": { "timber": [90, 45] }, "roll": 90,
      "material": "pine" },
    { "name": "brace", "from": [0, 0, 0], "to": [100, 0, 0],
      "section": { "angle": [50, 40, 5], "root_radius": 7, "toe_radius": 3.5 } },
    { "name": "beam", "from": [0, 0, 1300], "to": [500, 0, 1300],
      "section": { "tube": [60, 40, 4], "corner_radius": 6 }, "material": "S235" },
    { "name": "rail", "from": [0, 1, 0], "to": [0, 1, 500], "section": { "pipe": ["1 1/2 in", 3] } },
    { "name": "bolt", "from": [0, 2, 0], "to": [0, 2, 80], "section": { "rod": 12 } },
    { "name": "shelf", "from": [0, 3, 0], "to": [300, 3, 0], "section": { "plate": [200, 8] } },
    { "name": "bracket", "from": [10, 20, 30], "section": { "mesh": "parts/bracket.stl", "unit": "in" }, "roll": "15 deg" },
    { "name": "flitch", "from": [0, 4, 0], "to": [300, 4, 0], "material": "old pine", "section": { "side_by_side": [
      { "timber": [38, 140] }, { "plate": [6, 140], "material": "S235" }, { "timber": [38, 140] } ] } },
    { "name": "pair", "from": [0, 5, 0], "to": [300, 5, 0], "section": { "stacked": [
      { "tube": [60, 40, 4], "corner_radius": 6 }, { "angle": [50, 40, 5], "root_radius": 7, "toe_radius": 3.5 },
      { "pipe": [40, 3] }, { "rod": 20 } ] } }
  ],
  "materials": [
    { "name": "old pine", "kind": "timber", "E": "9 GPa", "E_across": 300, "G": 560, "density": "480 kg/m3", "bending": 7,
      "tension": 4, "compression": 8, "bearing": 2, "shear": "1 MPa", "source": "three boards of our own, broken" },
    { "name": "S235", "kind": "steel", "E": 205000, "density": 7850, "yield": "230 MPa", "source": "mill sheet",
      "replaces": true }
  ],
  "head": { "underside": 1100, "size": [900, 400], "thickness": 60, "centre": [5, 6], "material": "beech",
    "mesh": "parts/head.stl", "mesh_unit": "mm" },
  "platen": { "size": [850, 350], "thickness": 50, "centre": [0, 0], "material": "beech",
    "mesh": "parts/platen.stl", "mesh_unit": "cm" },
  "jacks": [
    { "name": "left", "foot": [-300, 0, 100], "closed_height": 250, "parked": 10, "stroke": "7 in", "lead": 4,
      "rated_load": "20 kN", "rate": "99 %", "rate_tolerance": 0.01, "body_diameter": 80, "screw_diameter": 32,
      "head_diameter": 60, "head_thickness": 15 },
    { "name": "right", "foot": [300, 0, 100], "closed_height": 250, "stroke": 180, "lead": 4, "rated_load": 20000,
      "body_diameter": 80, "screw_diameter": 32, "head_diameter": 60, "head_thickness": 15 }
  ],
  "guides": [
    { "name": "front", "at": [0, -150], "post_diameter": 30, "bore": 30.2, "sleeve_diameter": 45, "length": 120,
      "sleeve_below_top": -5, "post_from": 0, "post_to": 1100 }
  ],
  "joints": [
    { "between": ["post", "head"], "how": "welded" },
    { "between": ["post", "beam"], "how": "bearing" },
    { "between": ["flitch", "pair"], "how": "bolted", "bolts": { "count": 2, "diameter": 12, "grade": "8.8" } }
  ],
  "rests": [450, 620]
}
)";

inline constexpr std::string_view kMoldSample = R"({
  "evenclose": "mold", "version": 1, "unit": "mm", "note": "meshes", "name": "Dune",
  "lower": { "mesh": "lower.stl", "unit": "mm", "offset": [1, 2, 3], "turn": 90, "flip": true, "material": "PETG" },
  "upper": { "mesh": "upper.stl" },
  "shut_height": 131.1, "deck_size": [800, 220], "loading": "halves",
  "stack": { "plies": [
      { "thickness": 1.5, "species": "maple", "grain": "along", "count": 2 },
      { "thickness": "1/16 in", "species": "maple", "grain": "across", "bend_radius": 80,
        "bend_radius_across": "2 in" },
      { "thickness": 1.5, "grain": "along", "count": 4 } ],
    "glue_line": 0.1, "squeeze": 0.05, "glue_pressure": "3 bar",
    "glue": { "name": "white glue, sheet of 2024", "spread": 180, "open_time": "12 min", "closed_time": 20,
      "press_times": [ { "at": 10, "time": "2 h" }, { "at": "68 F", "time": "1 h 10 min" } ], "post_cure": "2 days" } },
  "print": { "build_volume": [250, 210, 220], "fill": "20 %", "wall": 1.2, "cost_a_kilo": 24.5 }
}
)";

inline constexpr std::string_view kBlockMoldSample = R"({
  "evenclose": "mold", "version": 1, "name": "Blocks",
  "lower": { "block": [800, 250, 60], "seat_centre": [10, 0], "material": "pine" },
  "upper": { "block": [780, 240, 50] },
  "stack": { "plies": [ { "thickness": 1.5, "grain": "along", "count": 7 } ], "glue_line": 0.1 }
}
)";

inline constexpr std::string_view kSetupSample = R"({
  "evenclose": "set-up", "version": 1, "unit": "mm", "note": "", "name": "Monday",
  "press": "presses/oak.press.json",
  "openings": [ { "mold": "molds/dune.mold.json", "at": [0, 5], "turn": 180 } ],
  "limits": { "running_clearance": 4, "loading_clearance": 12, "stroke_reserve": 8, "level_over_deck": 0.4,
    "seat_flatness": 0.2, "seat_overhang": 1, "cavity_tolerance": 0.25,
    "least_draft": 3 },
  "closing_force": "28 kN",
  "temperature": "18 C",
  "crew": { "spread": "40 s", "stack": 2, "load": "90 s", "unload": "1 min", "close": "30 s", "helpers": 1 },
  "shop": { "hours_a_day": 7.5, "days_a_week": 4, "presses": 2, "molds": 6, "racks": 30 },
  "costs": { "mold": 250, "platen": 90, "frame_a_metre": 140.5, "press": 3000, "hour": 35 }
}
)";

inline constexpr std::string_view kStackSample = R"({
  "evenclose": "set-up", "version": 1, "name": "Tuesday",
  "press": "presses/oak.press.json",
  "openings": [
    { "mold": "molds/dune.mold.json", "at": [0, 5] },
    { "mold": "molds/dune.mold.json", "decks": 2 },
    { "mold": "molds/blocks.mold.json" }
  ],
  "intermediate_platens": [
    { "size": [850, 350], "thickness": 25, "centre": [1, 2], "material": "S235", "mass": "22 kg", "guided": false,
      "rest": 480 },
    { "size": [850, 350], "thickness": 30, "mesh": "molds/between.stl", "mesh_unit": "mm", "count": 1 }
  ]
}
)";

/// The sample with `from`, which is in it, replaced by `to`; the first of several.
inline std::string changed(std::string_view sample, std::string_view from, std::string_view to) {
    std::string text{sample};
    const std::size_t at = text.find(from);
    CAPTURE(from);
    REQUIRE(at != std::string::npos);
    return text.replace(at, from.size(), to);
}

/// Stands in for the files that documents name: a box of the head's and platen's size, in any place. Counts.
struct BoxImporter {
    int* calls = nullptr;
    ImportResult operator()(const std::filesystem::path& file, std::optional<LengthUnit> unit) const {
        if (calls != nullptr) {
            ++*calls;
        }
        if (file.filename() == "broken.stl" || file.filename() == "brokn.stl") {
            return ImportFault{file.string(), "it ends after 2 of 12 triangles"};
        }
        ImportedMesh imported;
        if (file.filename() == "upper.stl") {
            imported.mesh = box_shape({-400, -110, 70}, {400, 110, 131.1});
        } else if (file.filename() == "lower.stl") {
            imported.mesh = box_shape({0, 0, 0}, {10, 20, 30});
        } else if (file.filename() == "head.stl") {
            imported.mesh = box_shape({-450, -200, 0}, {450, 200, 60});
        } else {
            imported.mesh = box_shape({-425, -175, -50}, {425, 175, 0});
        }
        imported.unit = unit.value_or(LengthUnit::mm);
        imported.unit_guessed = !unit;
        imported.unit_note = unit ? std::string{name_of(*unit)} + " (stated)" : "mm (guessed: it would be small in cm)";
        return imported;
    }
};

inline std::string all_sentences(const std::vector<DocumentFault>& faults) {
    std::string text;
    for (const DocumentFault& fault : faults) {
        text += fault.sentence() + "\n";
    }
    return text;
}

} // namespace evenclose::test
