#include "viewer/ui/closely_commands.hpp"

#include <GLFW/glfw3.h>

namespace evenclose {
namespace {

using Wanted = std::optional<Intent>;
using Shift = Stroke::Shift;

constexpr Stroke key(int number, Shift shift) { return {number, 0, false, shift}; }
constexpr Stroke control(int number) { return {number, 0, true, Shift::either}; }
constexpr Stroke sign(char32_t character) { return {0, character, false, Shift::either}; }

Wanted moved_section(const App& app, double metric_mm, double inches) {
    const double by = app.units == UnitSystem::metric ? metric_mm : inches * kMmPerInch;
    return app.closely.section ? Wanted{CloselyIntent{MoveSection{by}}} : std::nullopt;
}

template <SeeBody::How how> Wanted seen(const App& app) {
    return app.assembly ? Wanted{CloselyIntent{SeeBody{how, {}}}} : std::nullopt;
}

} // namespace

CommandGroup closely_group() {
    return {
        "Looking closely",
        {{"section",
          "section across X, Y, Z, off",
          {sign(U's')},
          [](const App&) -> Wanted { return CloselyIntent{StepSection{}}; },
          "cut plane open slice"},
         {"section.flip",
          "take away the section's other side",
          {sign(U'f')},
          [](const App& app) -> Wanted {
              return app.closely.section ? Wanted{CloselyIntent{FlipSection{}}} : std::nullopt;
          },
          "turn over cut"},
         {"section.back",
          "section back by 1 mm or 1/16 in",
          {key(GLFW_KEY_LEFT, Shift::without)},
          [](const App& app) { return moved_section(app, -1.0, -1.0 / 16); },
          "cut plane move",
          "section by 1 mm or 1/16 in"},
         {"section.on",
          "section on by 1 mm or 1/16 in",
          {key(GLFW_KEY_RIGHT, Shift::without)},
          [](const App& app) { return moved_section(app, 1.0, 1.0 / 16); },
          "cut plane move",
          "section by 1 mm or 1/16 in"},
         {"section.back.fine",
          "section back by 0.1 mm or 1/64 in",
          {key(GLFW_KEY_LEFT, Shift::with)},
          [](const App& app) { return moved_section(app, -0.1, -1.0 / 64); },
          "cut plane move",
          "section by 0.1 mm or 1/64 in"},
         {"section.on.fine",
          "section on by 0.1 mm or 1/64 in",
          {key(GLFW_KEY_RIGHT, Shift::with)},
          [](const App& app) { return moved_section(app, 0.1, 1.0 / 64); },
          "cut plane move",
          "section by 0.1 mm or 1/64 in"},
         {"measure",
          "measure points, then faces, then off",
          {sign(U'a')},
          [](const App& app) -> Wanted { return app.assembly ? Wanted{CloselyIntent{StepMeasure{}}} : std::nullopt; },
          "across distance angle dimension length"},
         {"body.hide", "hide the body that was clicked", {sign(U'h')}, seen<SeeBody::How::hide>, "hide away"},
         {"body.through",
          "see through that body, or no more",
          {sign(U'j')},
          seen<SeeBody::How::see_through>,
          "ghost transparent glass"},
         {"body.alone", "leave that body alone", {sign(U'i')}, seen<SeeBody::How::alone>, "isolate only others"},
         {"body.all",
          "show all bodies again",
          {sign(U'v')},
          [](const App&) -> Wanted { return CloselyIntent{SeeAllBodies{}}; },
          "unhide visible"},
         {"names",
          "names of the bodies beside the press",
          {sign(U'k')},
          [](const App& app) -> Wanted { return CloselyIntent{ShowLabels{!app.closely.labels}}; },
          "labels tags"},
         {"film",
          "a turn round or the stroke as a film",
          {control(GLFW_KEY_T)},
          [](const App& app) -> Wanted { return app.assembly ? Wanted{ShowSheet{Sheet::film}} : std::nullopt; },
          "turntable animation video pictures webp save"}},
        {{"right click", "menu of a body: hide it, cut it there; a number: copy it"},
         {"knob", "drag the section's plane by it"}}};
}

} // namespace evenclose
