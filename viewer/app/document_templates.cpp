#include "viewer/app/document_templates.hpp"

#include <algorithm>
#include <array>
#include <utility>

namespace evenclose {

std::string_view template_of(std::string_view definition) {
    using Entry = std::pair<std::string_view, std::string_view>;
    constexpr std::array<Entry, 28> templates{{
        {"member",
         R"({ "name": "new post", "from": ["-500 mm", "0 mm", "0 mm"], "to": ["-500 mm", "0 mm", "1000 mm"], "section": { "timber": ["90 mm", "90 mm"] }, "material": "C24" })"},
        {"jack",
         R"({ "name": "new jack", "foot": ["0 mm", "0 mm", "0 mm"], "closed_height": "250 mm", "stroke": "150 mm", "lead": "6 mm", "rated_load": "30 kN", "body_diameter": "80 mm", "screw_diameter": "36 mm", "head_diameter": "70 mm", "head_thickness": "15 mm" })"},
        {"thread", R"({ "form": "trapezoidal", "friction": 0.15 })"},
        {"scissor",
         R"({ "arm": "150 mm", "base_height": "40 mm", "head_height": "30 mm", "foot_size": ["120 mm", "80 mm"], "head_size": ["90 mm", "60 mm"], "link_width": "25 mm", "link_depth": "40 mm", "lead": "4 mm", "screw_diameter": "20 mm" })"},
        {"cylinder",
         R"({ "bore": "50 mm", "rod": "30 mm", "body_diameter": "65 mm", "head_diameter": "50 mm", "head_thickness": "15 mm" })"},
        {"hose", R"({ "free_diameter": "500 mm", "length": "600 mm" })"},
        {"guide",
         R"({ "name": "new guide", "at": ["0 mm", "-200 mm"], "post_diameter": "30 mm", "bore": "30.2 mm", "sleeve_diameter": "45 mm", "length": "120 mm", "post_from": "0 mm", "post_to": "1000 mm" })"},
        {"drive", R"({ "name": "new drive", "jacks": ["left jack"], "speed": "60 rpm", "tolerance": "2 %" })"},
        {"link_shaft",
         R"({ "name": "new shaft", "between": ["left jack", "right jack"], "rod": "25 mm", "length": "450 mm" })"},
        {"coupling", R"({ "play": "1 deg" })"},
        {"measured_heights", R"({ "spread": "0.1 mm", "file": "heights.csv" })"},
        {"joint", R"({ "between": ["left post", "head"], "how": "bolted" })"},
        {"half", R"({ "block": ["500 mm", "200 mm", "60 mm"] })"},
        {"ply", R"({ "thickness": "1.5 mm", "species": "birch", "grain": "along" })"},
        {"print", R"({ "build_volume": ["250 mm", "210 mm", "220 mm"], "fill": "20 %", "wall": "1.2 mm" })"},
        {"opening", R"({ "mold": "other.mold.json", "at": ["0 mm", "0 mm"] })"},
        {"place2", R"(["0 mm", "0 mm"])"},
        {"material",
         R"({ "name": "our ash", "kind": "timber", "E": "11000 MPa", "density": "690 kg/m3", "bending": "14 MPa", "tension": "8 MPa", "compression": "9 MPa", "bearing": "3 MPa", "shear": "1.4 MPa", "source": "to be filled in" })"},
        {"bolts", R"({ "diameter": "12 mm", "count": 2 })"},
        {"part", R"({ "timber": ["45 mm", "90 mm"] })"},
        {"glue", R"({ "open_time": "10 min" })"},
        {"press_time", R"({ "at": 20, "time": "2 h" })"},
        {"crew", R"({ "spread": "20 s", "stack": "10 s", "load": "2 min", "unload": "2 min" })"},
        {"shop", R"({ "hours_a_day": 8, "days_a_week": 5 })"},
        {"costs", R"({ "hour": 40 })"},
        {"outline", R"({ "file": "deck.dxf" })"},
        {"intermediate_platen", R"({ "size": ["700 mm", "300 mm"], "thickness": "30 mm" })"},
        {"limits", R"({ "running_clearance": "5 mm" })"},
    }};
    const auto* const found =
        std::find_if(templates.begin(), templates.end(), [&](const Entry& e) { return e.first == definition; });
    return found == templates.end() ? std::string_view{} : found->second;
}

} // namespace evenclose
