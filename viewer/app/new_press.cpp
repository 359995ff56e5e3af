#include "viewer/app/new_press.hpp"

#include "scene/documents/atomic_write.hpp"
#include "scene/documents/document_text.hpp"
#include "scene/units/units.hpp"
#include "scene/vec.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>
#include <system_error>

namespace evenclose {
namespace {

namespace fs = std::filesystem;

struct Tube {
    double width, depth, wall;
    [[nodiscard]] double section_modulus_mm3() const {
        const double inner = depth - 2 * wall;
        return (width * depth * depth * depth - (width - 2 * wall) * inner * inner * inner) / 6.0 / depth;
    }
};
// Sizes of EN 10219 that a steel dealer has, as usual trade (from memory).
constexpr std::array<Tube, 8> kTubes{{{60, 80, 4},
                                      {60, 100, 5},
                                      {60, 120, 5},
                                      {80, 140, 5},
                                      {80, 160, 6},
                                      {100, 200, 6},
                                      {100, 200, 8},
                                      {150, 250, 10}}};

constexpr double kStress_MPa = 90.0;    // a third of S235 and more: frames are stiff or of no use
constexpr double kPressure_MPa = 0.3;   // over the deck: flexible veneers, to begin with
constexpr double kPlatenBend_mm = 0.15; // half of the cavity tolerance
constexpr double kThickest_mm = 80.0;
constexpr double kSteel_MPa = 210'000.0;
constexpr double kStack_mm = 7 * 1.5 + 6 * 0.02;
constexpr double kPost_mm = 80.0; // along the deck
constexpr double kGuide_mm = 30.0, kSleeve_mm = 50.0, kGuideInset_mm = 35.0;
constexpr double kRunning_mm = 10.0;

double stepped(double value, double step) { return std::ceil(value / step - 1e-9) * step; }

/// All sizes that follow from the answers, mm and N.
struct Sizes {
    Tube beam{};
    double force_N = 0, thickness = 0, half = 0, travel = 0, stroke = 0, closed_height = 0;
    double body = 0, screw = 0, bore = 0;      // of a jack
    double jack_x = 0, jack_y = 0, beam_y = 0; // from the middle
    double foot_z = 0, underside = 0, top = 0;
    double mold_x = 0, mold_y = 0, deck_x = 0, deck_y = 0;
    double tolerance = 0;

    explicit Sizes(const NewPressAnswers& a) {
        const bool screws = a.jacks == NewPressAnswers::Jacks::screw;
        // A screw at 60 MPa in its core, a cylinder at 16 MPa: usual practice, no source.
        screw = std::max(30.0, stepped(std::sqrt(a.jack_load_N / 60.0 * 4.0 / M_PI) + 6.0, 2));
        bore = stepped(std::sqrt(a.jack_load_N / 16.0 * 4.0 / M_PI), 5);
        body = screws ? 2 * screw + 20 : bore + 20;
        mold_x = std::floor(std::min(0.6 * a.platen_length_mm + 40, a.platen_length_mm - 130));
        mold_y = std::floor(0.6 * a.platen_depth_mm + 40);
        deck_x = mold_x - 40;
        deck_y = mold_y - 40;
        const double guide_free = a.platen_length_mm / 2 - kGuideInset_mm - 0.5 * kSleeve_mm - kRunning_mm;
        jack_x = std::floor(std::min(0.36 * a.platen_length_mm, guide_free - 0.5 * body));
        jack_y = a.jack_count == 4 ? std::round(std::max(0.3 * a.platen_depth_mm, 0.5 * body + 15)) : 0;

        const double span = 2 * jack_x;
        const double stiff = 77.0 * kSteel_MPa * a.platen_depth_mm / 12.0 * kPlatenBend_mm / (span * span * span);
        force_N = std::min({0.5 * a.jack_count * a.jack_load_N, kPressure_MPa * deck_x * deck_y,
                            stiff * kThickest_mm * kThickest_mm * kThickest_mm});
        thickness = std::clamp(stepped(std::cbrt(force_N / stiff), 5), 30.0, kThickest_mm);
        const double moment = 0.6 * force_N / 2 * (a.between_posts_mm + kPost_mm) / 4;
        const auto* const enough = std::find_if(kTubes.begin(), kTubes.end(), [&](const Tube& tube) {
            return tube.section_modulus_mm3() >= moment / kStress_MPa;
        });
        beam = enough == kTubes.end() ? kTubes.back() : *enough;
        beam_y = a.jack_count == 4 ? std::max(jack_y, 0.5 * beam.width + 10) : std::max(70.0, beam.width + 10);

        half = std::floor(std::clamp((0.45 * a.daylight_mm - kStack_mm) / 2, 30.0, 80.0) / 5) * 5;
        travel = a.daylight_mm - 2 * half - kStack_mm;
        stroke = stepped(travel + 25, 10);
        closed_height = screws ? std::max(150.0, stepped(0.5 * stroke + 120, 10)) : stroke + 140;
        foot_z = beam.depth + 20;
        underside = foot_z + closed_height + thickness + a.daylight_mm;
        top = underside + thickness;
        // So that the deck's ends differ by 0.2 mm at most, of 0.5 that are allowed.
        const double lever = std::max(deck_x / (2 * jack_x), jack_y > 0 ? deck_y / (2 * jack_y) : 0.0);
        tolerance = std::clamp(std::floor(0.2 / (2 * travel * lever) * 1e4) / 1e4, 1e-4, 1e-3);
    }
};

struct Spot {
    std::string name;
    double x, y;
};

std::vector<Spot> spots_of(const NewPressAnswers& a, const Sizes& s) {
    if (a.jack_count == 2) {
        return {{"left jack", -s.jack_x, 0}, {"right jack", s.jack_x, 0}};
    }
    return {{"front left jack", -s.jack_x, -s.jack_y},
            {"front right jack", s.jack_x, -s.jack_y},
            {"back left jack", -s.jack_x, s.jack_y},
            {"back right jack", s.jack_x, s.jack_y}};
}

std::string member(const std::string& name, const Vec3& from, const Vec3& to, const std::string& section) {
    return fmt::format(
        R"(    {{ "name": "{}", "from": [{}, {}, {}], "to": [{}, {}, {}], "section": {}, "material": "S235" }})", name,
        from.x, from.y, from.z, to.x, to.y, to.z, section);
}

std::string frame_text(const NewPressAnswers& a, const Sizes& s) {
    const double post_x = 0.5 * (a.between_posts_mm + kPost_mm);
    const std::string post = fmt::format(R"({{ "tube": [{}, {}, 5] }})", kPost_mm, s.beam.width);
    const std::string beam = fmt::format(R"({{ "tube": [{}, {}, {}] }})", s.beam.width, s.beam.depth, s.beam.wall);
    std::vector<std::string> members;
    for (const double side : {-1.0, 1.0}) {
        for (const double row : {-1.0, 1.0}) {
            members.push_back(member(fmt::format("{} {} post", row < 0 ? "front" : "back", side < 0 ? "left" : "right"),
                                     {side * post_x, row * s.beam_y, 0}, {side * post_x, row * s.beam_y, s.top}, post));
        }
    }
    const double inner = 0.5 * a.between_posts_mm;
    const double outer = post_x + 0.5 * kPost_mm;
    for (const double row : {-1.0, 1.0}) {
        const std::string where = row < 0 ? "front" : "back";
        members.push_back(member(where + " base beam", {-inner, row * s.beam_y, 0.5 * s.beam.depth},
                                 {inner, row * s.beam_y, 0.5 * s.beam.depth}, beam));
        members.push_back(member(where + " head beam", {-outer, row * s.beam_y, s.top + 0.5 * s.beam.depth},
                                 {outer, row * s.beam_y, s.top + 0.5 * s.beam.depth}, beam));
    }
    members.push_back(member("base plate", {-inner, 0, s.beam.depth + 10}, {inner, 0, s.beam.depth + 10},
                             fmt::format(R"({{ "plate": [{}, 20] }})", 2 * s.beam_y + s.beam.width)));
    return fmt::format("{}", fmt::join(members, ",\n"));
}

std::string jacks_text(const NewPressAnswers& a, const Sizes& s) {
    std::vector<std::string> jacks;
    for (const Spot& spot : spots_of(a, s)) {
        const std::string kind =
            a.jacks == NewPressAnswers::Jacks::screw
                ? fmt::format(
                      R"("lead": 6, "body_diameter": {}, "screw_diameter": {}, "head_diameter": {}, "head_thickness": 15,
      "thread": {{ "friction": 0.15 }})",
                      s.body, s.screw, 2 * s.screw)
                : fmt::format(
                      R"("cylinder": {{ "bore": {}, "rod": {}, "body_diameter": {}, "head_diameter": {}, "head_thickness": 15 }})",
                      s.bore, std::round(0.6 * s.bore), s.body, s.bore);
        jacks.push_back(fmt::format(
            R"(    {{ "name": "{}", "foot": [{}, {}, {}], "closed_height": {}, "stroke": {}, "rated_load": "{:g} kN",
      "rate_tolerance": "{:g} %", {} }})",
            spot.name, spot.x, spot.y, s.foot_z, s.closed_height, s.stroke, a.jack_load_N / 1000.0, 100.0 * s.tolerance,
            kind));
    }
    return fmt::format("{}", fmt::join(jacks, ",\n"));
}

/// Screws are coupled, so that they turn alike; cylinders are not.
std::string shafts_text(const NewPressAnswers& a, const Sizes& s) {
    if (a.jacks != NewPressAnswers::Jacks::screw) {
        return {};
    }
    const std::vector<Spot> spots = spots_of(a, s);
    std::vector<std::string> shafts;
    const auto shaft = [&](const char* name, std::size_t from, std::size_t to, double height) {
        const double apart = std::hypot(spots[from].x - spots[to].x, spots[from].y - spots[to].y);
        shafts.push_back(fmt::format(
            R"(    {{ "name": "{}", "between": ["{}", "{}"], "tube": [30, 2.5], "length": {:.0f}, "height": {} }})",
            name, spots[from].name, spots[to].name, std::max(apart - 80, 0.5 * apart), height));
    };
    const double height = 0.5 * s.closed_height;
    if (a.jack_count == 2) {
        shaft("link shaft", 0, 1, height);
    } else {
        shaft("front link shaft", 0, 1, height);
        shaft("back link shaft", 2, 3, height);
        shaft("cross shaft", 0, 2, height - 50); // under the others
    }
    return fmt::format("  \"link_shafts\": [\n{}\n  ],\n", fmt::join(shafts, ",\n"));
}

std::string guides_text(const NewPressAnswers& a, const Sizes& s) {
    std::vector<std::string> guides;
    for (const double side : {-1.0, 1.0}) {
        guides.push_back(fmt::format(
            R"(    {{ "name": "{} guide", "at": [{}, 0], "post_diameter": {}, "bore": {}, "sleeve_diameter": {}, "length": {},
      "post_from": {}, "post_to": {}, "friction": 0.15 }})",
            side < 0 ? "left" : "right", side * (0.5 * a.platen_length_mm - kGuideInset_mm), kGuide_mm, kGuide_mm + 0.2,
            kSleeve_mm, stepped(std::max(90.0, 0.085 * a.platen_length_mm), 5), s.beam.depth, s.underside));
    }
    return fmt::format("{}", fmt::join(guides, ",\n"));
}

std::string told_length(double mm) { return show_length(mm, UnitSystem::metric, 1); }

} // namespace

std::vector<std::string> faults_of(const NewPressAnswers& a) {
    std::vector<std::string> faults;
    const auto between = [&](const char* what, double value, double least, double most) {
        if (!(value >= least && value <= most)) {
            faults.push_back(fmt::format("{} of {}: give {} to {}", what, told_length(value), told_length(least),
                                         told_length(most)));
        }
    };
    between("daylight", a.daylight_mm, 120, 2000);
    between("platen length", a.platen_length_mm, 340, 4000);
    between("platen depth", a.platen_depth_mm, 160, 2000);
    if (a.platen_length_mm + 20 > a.between_posts_mm) {
        faults.push_back(fmt::format("the posts must stand 20 mm further apart than the platen is long: {} or more",
                                     told_length(a.platen_length_mm + 20)));
    }
    if (!(a.between_posts_mm <= 6000)) {
        faults.push_back("the posts stand at most 6 m apart");
    }
    if (!(a.jack_load_N >= 1'000 && a.jack_load_N <= 500'000)) {
        faults.push_back(
            fmt::format("a jack's load of {}: give 1 kN to 500 kN", show_force(a.jack_load_N, UnitSystem::metric)));
    }
    if (a.jack_count != 2 && a.jack_count != 4) {
        faults.push_back("give two or four jacks");
    }
    if (a.name.find_first_not_of(" \t") == std::string::npos || a.name.size() > 200) {
        faults.push_back("give the press a name, of at most 200 letters");
    }
    if (faults.empty()) {
        const Sizes sizes(a);
        if (2 * sizes.jack_x < 1.2 * sizes.body) {
            faults.push_back(
                fmt::format("jacks of {} are too thick for a platen of {}: give a longer platen or a smaller load",
                            show_force(a.jack_load_N, UnitSystem::metric), told_length(a.platen_length_mm)));
        }
    }
    return faults;
}

NewPressTexts new_press(const NewPressAnswers& a, const std::string& stem) {
    const Sizes s(a);
    NewPressTexts texts;
    texts.press_name = stem + ".press.json";
    texts.mold_name = stem + ".mold.json";
    texts.setup_name = stem + ".set-up.json";
    texts.press = fmt::format(
        R"(// Made from a few answers: a welded steel frame to start from. Millimetres; the floor is at 0, the operator stands at -Y.
{{
  "evenclose": "press",
  "version": 1,
  "name": {},
  "members": [
{}
  ],
  "head": {{ "underside": {}, "size": [{}, {}], "thickness": {}, "material": "S235" }},
  "platen": {{ "size": [{}, {}], "thickness": {}, "material": "S235" }},
  "jacks": [
{}
  ],
{}  "guides": [
{}
  ],
  "load_from": "front"
}}
)",
        json_text(a.name), frame_text(a, s), s.underside, a.platen_length_mm, a.platen_depth_mm, s.thickness,
        a.platen_length_mm, a.platen_depth_mm, s.thickness, jacks_text(a, s), shafts_text(a, s), guides_text(a, s));
    texts.mold = fmt::format(R"(// Plain blocks that stand in for a mold until there is one: swap them for meshes.
{{
  "evenclose": "mold",
  "version": 1,
  "name": "Block mold",
  "lower": {{ "block": [{0}, {1}, {2}] }},
  "upper": {{ "block": [{0}, {1}, {2}] }},
  "deck_size": [{3}, {4}],
  "stack": {{
    "plies": [ {{ "thickness": 1.5, "species": "birch", "grain": "along", "count": 7 }} ],
    "glue_line": 0.02
  }}
}}
)",
                             s.mold_x, s.mold_y, s.half, s.deck_x, s.deck_y);
    texts.setup = fmt::format(R"({{
  "evenclose": "set-up",
  "version": 1,
  "name": {},
  "press": {},
  "openings": [ {{ "mold": {}, "at": [0, 0] }} ],
  "closing_force": "{:g} kN",
  "limits": {{ "running_clearance": 5, "loading_clearance": 15, "stroke_reserve": 10, "level_over_deck": 0.5 }}
}}
)",
                              json_text("Block mold in " + a.name), json_text(texts.press_name),
                              json_text(texts.mold_name), std::max(std::floor(s.force_N / 100.0) / 10.0, 0.1));
    return texts;
}

std::variant<fs::path, std::string> write_new_press(const NewPressAnswers& answers, const fs::path& folder,
                                                    const std::string& stem) {
    std::error_code ignored;
    if (stem.empty()) {
        return std::string("give the files a name behind the folder");
    }
    if (!fs::is_directory(folder, ignored)) {
        return fmt::format("there is no folder {}", folder.string());
    }
    const NewPressTexts texts = new_press(answers, stem);
    for (const std::string& name : {texts.press_name, texts.mold_name, texts.setup_name}) {
        if (fs::exists(folder / name, ignored)) {
            return fmt::format("there is a {} already; give another name", name);
        }
    }
    // The set-up last: before it stands, nothing names the others.
    const std::array<std::pair<const std::string*, const std::string*>, 3> files{
        {{&texts.press_name, &texts.press}, {&texts.mold_name, &texts.mold}, {&texts.setup_name, &texts.setup}}};
    for (const auto& [name, text] : files) {
        if (auto fault = write_file_atomically(folder / *name, *text)) {
            return *fault;
        }
    }
    return folder / texts.setup_name;
}

} // namespace evenclose
