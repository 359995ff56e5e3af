#include "tests/viewer/window/shop_files.hpp"

#include <nlohmann/json.hpp>

#include <array>
#include <cmath>
#include <cstdint>
#include <fstream>
#include <utility>
#include <vector>

namespace evenclose::test {
namespace {

using nlohmann::json;
namespace fs = std::filesystem;

void write(const fs::path& file, const json& document) { std::ofstream(file) << document.dump(1) << '\n'; }

json jack(const char* name, double x) {
    return {{"name", name},        {"foot", {x, 0, 0}},     {"closed_height", 200}, {"stroke", 180},
            {"lead", 4},           {"rated_load", "20 kN"}, {"body_diameter", 80},  {"screw_diameter", 30},
            {"head_diameter", 60}, {"head_thickness", 10}};
}

json post(const char* name, double x) {
    return {{"name", name},
            {"from", {x, 0, 0}},
            {"to", {x, 0, 700}},
            {"section", {{"timber", {60, 60}}}},
            {"material", "pine"}};
}

json press_of(ShopFault fault, bool strays = false) {
    json press{{"evenclose", "press"}, {"version", 1}, {"name", "Box press"}};
    press["members"] = {post("left post", -400), post("right post", 400)};
    if (fault == ShopFault::stray_bolt) {
        press["members"].push_back({{"name", "stray bolt"},
                                    {"from", {370, 40, 300}},
                                    {"to", {330, 40, 300}},
                                    {"section", {{"rod", 12}}},
                                    {"material", "8.8"}});
    }
    press["head"] = {{"underside", 480}, {"size", {700, 300}}, {"thickness", 40}};
    press["platen"] = {{"size", {700, 300}}, {"thickness", 40}};
    json left = jack("left jack", -250);
    json right = jack("right jack", 250);
    if (fault == ShopFault::stray_bolt) {
        right["rate"] = 0.99;
    }
    if (strays) {
        left["rate_tolerance"] = right["rate_tolerance"] = "1 %";
    }
    if (fault == ShopFault::unreadable) {
        left["led"] = 5;
        right["stroke"] = -20;
    }
    press["jacks"] = {left, right};
    press["load_from"] = "front";
    return press;
}

json stack() {
    return {{"plies", {{{"thickness", 1.5}, {"species", "birch"}, {"grain", "along"}, {"count", 7}}}},
            {"glue_line", 0.1}};
}

std::string write_setup(const fs::path& folder, const json& press, const json& mold, const std::string& name,
                        std::size_t openings = 1) {
    write(folder / "box.press.json", press);
    write(folder / "box.mold.json", mold);
    const fs::path file = folder / "box.set-up.json";
    json setup{{"evenclose", "set-up"}, {"version", 1}, {"name", name}, {"press", "box.press.json"}};
    for (std::size_t i = 0; i < openings; ++i) {
        setup["openings"].push_back({{"mold", "box.mold.json"}, {"at", {0, 0}}});
    }
    if (openings > 1) {
        setup["intermediate_platens"] = {
            {{"size", {700, 300}}, {"thickness", 25}, {"material", "S235"}, {"count", openings - 1}}};
    }
    write(file, setup);
    return file.string();
}

json flat_board() {
    return {{"evenclose", "mold"},
            {"version", 1},
            {"name", "Flat board"},
            {"lower", {{"block", {500, 200, 60}}}},
            {"upper", {{"block", {500, 200, 60}}}},
            {"stack", stack()}};
}

/// A closed height field over 500 x 200 between `flat` and a wave about `middle`, as binary STL.
void write_wave(const fs::path& file, std::size_t triangles, double flat, double middle) {
    const auto across = static_cast<int>(std::sqrt(static_cast<double>(triangles) / 4.0));
    using Point = std::array<float, 3>;
    const auto at = [&](int i, int j, bool wave) {
        const double x = -250.0 + 500.0 * i / across;
        const double y = -100.0 + 200.0 * j / across;
        const double z = wave ? middle + 15.0 * std::sin(x / 60.0) + 5.0 * std::cos(y / 30.0) : flat;
        return Point{static_cast<float>(x), static_cast<float>(y), static_cast<float>(z)};
    };
    const bool upward = middle > flat;
    std::vector<std::array<Point, 3>> faces;
    const auto quad = [&](Point a, Point b, Point c, Point d, bool outward) {
        if (!outward) {
            std::swap(b, d);
        }
        faces.push_back({a, b, c});
        faces.push_back({a, c, d});
    };
    for (int j = 0; j < across; ++j) {
        for (int i = 0; i < across; ++i) {
            quad(at(i, j, true), at(i + 1, j, true), at(i + 1, j + 1, true), at(i, j + 1, true), upward);
            quad(at(i, j, false), at(i + 1, j, false), at(i + 1, j + 1, false), at(i, j + 1, false), !upward);
        }
        quad(at(j, 0, false), at(j + 1, 0, false), at(j + 1, 0, true), at(j, 0, true), upward);
        quad(at(j, across, false), at(j + 1, across, false), at(j + 1, across, true), at(j, across, true), !upward);
        quad(at(0, j, false), at(0, j + 1, false), at(0, j + 1, true), at(0, j, true), !upward);
        quad(at(across, j, false), at(across, j + 1, false), at(across, j + 1, true), at(across, j, true), upward);
    }
    std::ofstream out(file, std::ios::binary);
    const std::array<char, 80> head{};
    out.write(head.data(), head.size());
    const auto count = static_cast<std::uint32_t>(faces.size());
    out.write(reinterpret_cast<const char*>(&count), 4);
    for (const auto& face : faces) {
        const Point normal{0, 0, 0}; // left to the reader
        const std::uint16_t attribute = 0;
        out.write(reinterpret_cast<const char*>(normal.data()), sizeof normal);
        out.write(reinterpret_cast<const char*>(face.data()), sizeof face);
        out.write(reinterpret_cast<const char*>(&attribute), 2);
    }
}

} // namespace

std::string write_shop_files(const fs::path& folder, ShopFault fault) {
    return write_setup(folder, press_of(fault), flat_board(),
                       fault == ShopFault::none ? "A flat board" : "A flat board and a stray bolt");
}

std::string write_stack(const fs::path& folder) {
    json press = press_of(ShopFault::none);
    press["head"]["underside"] = 240 + 3 * (131.1 + 40) + 2 * 25;
    for (json& member : press["members"]) {
        member["to"][2] = 1000;
    }
    return write_setup(folder, press, flat_board(), "Three flat boards", 3);
}

std::string write_long_check(const fs::path& folder, std::size_t triangles) {
    write_wave(folder / "lower.stl", triangles, 0.0, 50.0);
    write_wave(folder / "upper.stl", triangles, 130.0, 61.1);
    const json mold{{"evenclose", "mold"},
                    {"version", 1},
                    {"name", "Washboard"},
                    {"lower", {{"mesh", "lower.stl"}, {"unit", "mm"}}},
                    {"upper", {{"mesh", "upper.stl"}, {"unit", "mm"}}},
                    {"stack", stack()}};
    return write_setup(folder, press_of(ShopFault::none, true), mold, "A washboard");
}

} // namespace evenclose::test
