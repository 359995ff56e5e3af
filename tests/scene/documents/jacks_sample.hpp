// tests/scene/documents/jacks_sample.hpp: a press document with jacks of every kind, drives and shafts (own invention).
#pragma once

#include <string_view>

namespace evenclose::test {

inline constexpr std::string_view kJacksSample = R"({
  "evenclose": "press", "version": 1, "name": "Every jack",
  "head": { "underside": 1100, "size": [900, 400], "thickness": 60 },
  "platen": { "size": [850, 350], "thickness": 50, "mass": "85 kg" },
  "jacks": [
    { "name": "left", "foot": [-300, 0, 100], "closed_height": 250, "stroke": 180, "lead": 8, "rated_load": "20 kN",
      "moving_mass": 6, "body_diameter": 80, "screw_diameter": 32, "head_diameter": 60, "head_thickness": 15,
      "thread": { "form": "square", "starts": 2, "friction": 0.08, "collar_friction": 0.1, "collar_diameter": 40 } },
    { "name": "right", "foot": [300, 0, 100], "closed_height": 250, "stroke": 180, "lead": 8, "rated_load": "20 kN",
      "body_diameter": 80, "screw_diameter": 32, "head_diameter": 60, "head_thickness": 15,
      "thread": { "friction": 0.12, "form": "acme" } },
    { "name": "scissor", "foot": [-300, 100, 100], "closed_height": 140, "parked": 20, "stroke": 200,
      "rated_load": 10000, "moving_mass": "3 kg",
      "scissor": { "arm": 200, "one_nut": false, "base_height": 25, "head_height": 15, "foot_size": [120, 80],
        "head_size": [80, 60], "link_width": 24, "link_depth": 40, "direction": 90, "lead": 2, "screw_diameter": 16,
        "thread": { "friction": 0.15 } } },
    { "name": "stages", "foot": [300, 100, 100], "closed_height": 240, "stroke": 400, "rated_load": 5000,
      "scissor": { "arm": 400, "stages": 2, "base_height": 40, "head_height": 30, "foot_size": [420, 200],
        "head_size": [420, 200], "link_width": 40, "link_depth": 60, "lead": 4, "screw_diameter": 20 } },
    { "name": "ram", "foot": [0, -100, 100], "closed_height": 300, "stroke": 200, "rated_load": "80 kN",
      "cylinder": { "bore": 80, "rod": 45, "body_diameter": 100, "head_diameter": 70, "head_thickness": 20 } },
    { "name": "bag", "foot": [0, 100, 100], "closed_height": 15, "stroke": 70, "rated_load": "30 kN",
      "hose": { "free_diameter": 100, "length": 600, "direction": "0 deg" } }
  ],
  "guides": [
    { "name": "front", "at": [0, -150], "post_diameter": 30, "bore": 30.2, "sleeve_diameter": 45, "length": 120,
      "post_from": 0, "post_to": 1100, "friction": 0.15 }
  ],
  "drives": [
    { "name": "left motor", "jacks": ["left"], "speed": "1400 rpm", "tolerance": "2 %", "gear_ratio": 20,
      "torque_limit": "4 N m" },
    { "name": "crank", "jacks": ["scissor", "stages"], "speed": 30, "tolerance": 0.1 },
    { "name": "pump", "jacks": ["ram", "bag"], "flow": "2 l/min", "tolerance": "5 %", "pressure_limit": "160 bar" }
  ],
  "link_shafts": [
    { "name": "long shaft", "between": ["left", "right"], "tube": [20, 2], "length": 560, "shear_modulus": "79.3 GPa",
      "couplings": [ { "clearance": 0.3, "radius": 10 }, { "play": "1 deg" } ], "height": 90 },
    { "name": "box", "between": ["scissor", "stages"], "box": [25, 25, 2], "length": 500 }
  ],
  "measured_heights": { "spread": 0.1, "rows": [
    { "travel": 0, "heads": [350, 350, 260, 340, 400, 115] },
    { "travel": "30 mm", "heads": [380, 380.2, 290, 370, 430, 145] } ] },
  "load_from": "front"
}
)";

} // namespace evenclose::test
