#include "viewer/ui/commands.hpp"

#include "viewer/app/measuring.hpp"
#include "viewer/app/open_documents.hpp"
#include "viewer/render/frame_of.hpp"
#include "viewer/ui/closely_commands.hpp"
#include "viewer/ui/copied_words.hpp"

#include <GLFW/glfw3.h>

#include <algorithm>
#include <array>

namespace evenclose {
namespace {

using Wanted = std::optional<Intent>;
using Shift = Stroke::Shift;
using While = Command::WhileTyping;

constexpr Stroke key(int number, Shift shift = Shift::either) { return {number, 0, false, shift}; }
constexpr Stroke control(int number, Shift shift = Shift::either) { return {number, 0, true, shift}; }
constexpr Stroke sign(char32_t character) { return {0, character, false, Shift::either}; }

constexpr std::array<double, 4> kMagnified{1.0, 10.0, 50.0, 100.0};

double next_magnified(double now) {
    const auto after = std::upper_bound(kMagnified.begin(), kMagnified.end(), now);
    return after == kMagnified.end() ? kMagnified.front() : *after;
}

/// Round in their order, past those that were not measured.
Seeing next_seeing(const App& app) {
    constexpr std::array<Seeing, 5> all{Seeing::press, Seeing::gap, Seeing::curvature, Seeing::cut, Seeing::pressure};
    const auto now = static_cast<std::size_t>(std::find(all.begin(), all.end(), app.seeing) - all.begin());
    for (std::size_t step = 1; step < all.size(); ++step) {
        const Seeing next = all[(now + step) % all.size()];
        if (app.can_see(next)) {
            return next;
        }
    }
    return app.seeing;
}

/// The press, or whatever there is while it cannot be read.
std::filesystem::path first_document(const App& app) {
    const std::vector<OpenDocument> open = open_documents(app.documents);
    const auto press =
        std::find_if(open.begin(), open.end(), [](const OpenDocument& o) { return o.kind == DocumentKind::press; });
    return press != open.end() ? press->file : open.empty() ? std::filesystem::path{} : open.front().file;
}

struct Steps {
    double fine_mm, plain_mm, great_mm;
};

Steps steps_of(const App& app) {
    return app.units == UnitSystem::metric ? Steps{0.1, 1.0, 10.0}
                                           : Steps{kMmPerInch / 64.0, kMmPerInch / 16.0, kMmPerInch / 2.0};
}

Wanted toggled(const App& app, Sheet sheet) { return ShowSheet{app.sheet == sheet ? Sheet::none : sheet}; }

Wanted asked_for(FileQuestion question) { return FileQuestionIntent{AskForFile{question}}; }

template <Seeing what> Wanted seeing(const App& app) {
    return app.can_see(what) ? Wanted{SetSeeing{what}} : std::nullopt;
}

template <std::size_t index> Wanted view(const App&) { return SetView{view_names()[index]}; }

Command view_command(std::size_t index, std::optional<Intent> (*intent)(const App&)) {
    const int digit = static_cast<int>(index);
    const std::string& name = view_names()[index];
    return {"view." + name,
            "look at the press: " + name,
            {key(GLFW_KEY_1 + digit), key(GLFW_KEY_KP_1 + digit)},
            intent,
            "view camera",
            "corner, front, back, left, right, top, mold"};
}

CommandGroup stroke_group() {
    return {
        "The stroke",
        {{"play",
          "play or pause the stroke",
          {key(GLFW_KEY_SPACE)},
          [](const App& app) -> Wanted { return Play{!app.plays()}; },
          "run animate close open"},
         {"travel.up",
          "platen up by 1 mm or 1/16 in",
          {key(GLFW_KEY_UP, Shift::without)},
          [](const App& app) -> Wanted { return MoveTravel{{steps_of(app).plain_mm}}; },
          "travel raise lift",
          "travel by 1 mm or 1/16 in"},
         {"travel.down",
          "platen down by 1 mm or 1/16 in",
          {key(GLFW_KEY_DOWN, Shift::without)},
          [](const App& app) -> Wanted { return MoveTravel{{-steps_of(app).plain_mm}}; },
          "travel lower",
          "travel by 1 mm or 1/16 in"},
         {"travel.up.fine",
          "platen up by 0.1 mm or 1/64 in",
          {key(GLFW_KEY_UP, Shift::with)},
          [](const App& app) -> Wanted { return MoveTravel{{steps_of(app).fine_mm}}; },
          "travel raise lift",
          "travel by 0.1 mm or 1/64 in"},
         {"travel.down.fine",
          "platen down by 0.1 mm or 1/64 in",
          {key(GLFW_KEY_DOWN, Shift::with)},
          [](const App& app) -> Wanted { return MoveTravel{{-steps_of(app).fine_mm}}; },
          "travel lower",
          "travel by 0.1 mm or 1/64 in"},
         {"travel.up.great",
          "platen up by 10 mm or 1/2 in",
          {key(GLFW_KEY_PAGE_UP)},
          [](const App& app) -> Wanted {
              return app.sheet == Sheet::guide ? Intent{TurnGuide{-1}} : Intent{MoveTravel{{steps_of(app).great_mm}}};
          },
          "travel raise lift",
          "travel by 10 mm or 1/2 in"},
         {"travel.down.great",
          "platen down by 10 mm or 1/2 in",
          {key(GLFW_KEY_PAGE_DOWN)},
          [](const App& app) -> Wanted {
              return app.sheet == Sheet::guide ? Intent{TurnGuide{1}} : Intent{MoveTravel{{-steps_of(app).great_mm}}};
          },
          "travel lower",
          "travel by 10 mm or 1/2 in"},
         {"travel.open",
          "open the press",
          {key(GLFW_KEY_HOME)},
          [](const App&) -> Wanted { return SetTravel{{0.0}}; },
          "travel daylight",
          "open, closed"},
         {"travel.closed",
          "close the press",
          {key(GLFW_KEY_END)},
          [](const App& app) -> Wanted { return SetTravel{app.last()}; },
          "travel shut",
          "open, closed"},
         {"load-in",
          "slide the mold in, or put it back",
          {sign(U'l')},
          [](const App& app) -> Wanted { return LoadIn{!app.loading_in}; },
          "load in"}},
        {}};
}

CommandGroup findings_group() {
    return {"Findings",
            {{"finding.next",
              "next finding",
              {sign(U'n')},
              [](const App&) -> Wanted { return ChooseStep{1}; },
              "ledger worst",
              "next finding, the one before"},
             {"finding.before",
              "the finding before",
              {sign(U'p')},
              [](const App&) -> Wanted { return ChooseStep{-1}; },
              "previous ledger",
              "next finding, the one before"},
             {"let-go",
              "close a sheet; else let go of what is chosen",
              {key(GLFW_KEY_ESCAPE)},
              [](const App& app) -> Wanted {
                  if (app.sheet != Sheet::none) {
                      return ShowSheet{Sheet::none};
                  }
                  if (app.closely.menu) {
                      return CloselyIntent{CloseBodyMenu{}};
                  }
                  return app.closely.measuring.what != Measuring::What::off ? Intent{CloselyIntent{Measure{}}}
                                                                            : Intent{ClearChoice{}};
              },
              "escape",
              "",
              While::on_sheet},
             {"check",
              "read the files again and check them",
              {sign(U'r')},
              [](const App& app) -> Wanted { return app.stage == Stage::empty ? std::nullopt : Wanted{CheckAgain{}}; },
              "reload refresh recheck"},
             {"stop",
              "stop the check",
              {sign(U'c')},
              [](const App& app) -> Wanted { return app.busy() ? Wanted{CancelCheck{}} : std::nullopt; },
              "cancel break off"},
             {"copy",
              "copy the number under the mouse, or measured, or the finding",
              {control(GLFW_KEY_C, Shift::without)},
              [](const App& app) -> Wanted {
                  return measure_words(app) ? Intent{CloselyIntent{CopyMeasure{}}}
                                            : Intent{CopyText{chosen_finding_words(app), "the finding"}};
              },
              "clipboard"},
             {"copy.table",
              "copy all findings as a table",
              {control(GLFW_KEY_C, Shift::with)},
              [](const App& app) -> Wanted {
                  return CopyText{findings_table(app), "the table of findings"};
              },
              "clipboard spreadsheet csv"},
             {"week",
              "the week at the presses",
              {sign(U'w')},
              [](const App& app) { return toggled(app, Sheet::week); },
              "time schedule plan decks"},
             {"plan",
              "ways to press more: openings, molds, people",
              {sign(U'g')},
              [](const App& app) { return toggled(app, Sheet::plan); },
              "plan next press stack cost frame height"},
             {"cautions",
              "where a press can hurt you",
              {},
              [](const App& app) { return toggled(app, Sheet::cautions); },
              "cautions safety danger hands"}},
            {}};
}

CommandGroup picture_group() {
    return {"The picture",
            {view_command(0, view<0>),
             view_command(1, view<1>),
             view_command(2, view<2>),
             view_command(3, view<3>),
             view_command(4, view<4>),
             view_command(5, view<5>),
             view_command(6, view<6>),
             {"seeing.next",
              "the press, gap, curvature, cut, pressure",
              {sign(U'm')},
              [](const App& app) -> Wanted { return SetSeeing{next_seeing(app)}; },
              "map colours"},
             {"seeing.press", "see the press as it stands", {}, seeing<Seeing::press>, "whole"},
             {"seeing.gap", "see the gap less the stack, in colours", {}, seeing<Seeing::gap>, "cavity map"},
             {"seeing.curvature",
              "see how the deck is bent, in colours",
              {},
              seeing<Seeing::curvature>,
              "curvature radius map"},
             {"seeing.cut", "see the closed mold cut open", {}, seeing<Seeing::cut>, "section plies"},
             {"seeing.pressure",
              "see the pressure on the deck, in colours",
              {},
              seeing<Seeing::pressure>,
              "force glue map"},
             {"opening",
              "of several openings the next one",
              {sign(U'o')},
              [](const App& app) -> Wanted {
                  return app.setup && app.setup->openings.size() > 1
                             ? Wanted{ChooseOpening{(app.opening + 1) % app.setup->openings.size()}}
                             : std::nullopt;
              },
              "stack"},
             {"tilt",
              "tilt drawn ×1, ×10, ×50, ×100",
              {sign(U't')},
              [](const App& app) -> Wanted { return SetTiltMagnified{next_magnified(app.tilt_magnified)}; },
              "level slope magnified"},
             {"bent",
              "closed: frame bent, coloured by use",
              {sign(U'b')},
              [](const App& app) -> Wanted { return ShowBent{app.bent == nullptr}; },
              "deflection stress force"},
             {"units",
              "millimetres or inches",
              {sign(U'u')},
              [](const App& app) -> Wanted {
                  return SetUnits{app.units == UnitSystem::metric ? UnitSystem::inch : UnitSystem::metric};
              },
              "units metric imperial mm"}},
            {{"drag", "turn round the point under the cursor"},
             {"right drag", "shift (or Shift and drag)"},
             {"wheel", "nearer, further, at the cursor"},
             {"click", "a member, head or platen: what it bears"},
             {"double click", "look at that point closely"},
             {"Ctrl drag", "take the mold along its platen"}}};
}

CommandGroup documents_group() {
    return {"Press, mold and set-up",
            {{"open",
              "open a set-up",
              {control(GLFW_KEY_O)},
              [](const App&) { return asked_for(FileQuestion::open); },
              "file load",
              "",
              While::anywhere},
             {"new",
              "a new press from a few questions",
              {control(GLFW_KEY_N)},
              [](const App&) -> Wanted { return ShowSheet{Sheet::new_press}; },
              "make create begin"},
             {"save",
              "save",
              {control(GLFW_KEY_S, Shift::without)},
              [](const App&) -> Wanted { return EditIntent{Save{}}; },
              "write file"},
             {"save-as",
              "save under another name",
              {control(GLFW_KEY_S, Shift::with)},
              [](const App&) { return asked_for(FileQuestion::save_as); },
              "write file copy as"},
             {"report",
              "make the report, for a browser or for paper",
              {control(GLFW_KEY_P)},
              [](const App& app) { return app.setup ? asked_for(FileQuestion::report) : std::nullopt; },
              "print pdf html page"},
             {"undo",
              "undo",
              {control(GLFW_KEY_Z, Shift::without)},
              [](const App&) -> Wanted { return EditIntent{Undo{}}; },
              "back take back"},
             {"redo",
              "do it again",
              {control(GLFW_KEY_Z, Shift::with), control(GLFW_KEY_Y)},
              [](const App&) -> Wanted { return EditIntent{Redo{}}; },
              "redo forward"},
             {"fields",
              "every number of the documents, or the bench",
              {sign(U'e')},
              [](const App& app) -> Wanted {
                  return EditIntent{
                      ShowFields{app.fields.file.empty() ? first_document(app) : std::filesystem::path{}, {}, false}};
              },
              "edit change"},
             {"find-field",
              "find a number by its words",
              {control(GLFW_KEY_F)},
              [](const App& app) -> Wanted {
                  return app.documents.texts.empty()
                             ? std::nullopt
                             : Wanted{EditIntent{ShowFields{
                                   app.fields.file.empty() ? first_document(app) : app.fields.file, {}, true}}};
              },
              "search edit",
              "",
              While::in_field},
             {"field.next",
              "type into the next field",
              {key(GLFW_KEY_TAB, Shift::without)},
              [](const App& app) -> Wanted {
                  return app.sheet != Sheet::none || app.documents.texts.empty() ? std::nullopt
                                                                                 : Wanted{EditIntent{StepField{1}}};
              },
              "edit",
              "type into the next field, the one before"},
             {"field.before",
              "type into the field before",
              {key(GLFW_KEY_TAB, Shift::with)},
              [](const App& app) -> Wanted {
                  return app.sheet != Sheet::none || app.documents.texts.empty() ? std::nullopt
                                                                                 : Wanted{EditIntent{StepField{-1}}};
              },
              "edit",
              "type into the next field, the one before"},
             {"molds",
              "the molds of a folder, and how each fares in this press",
              {control(GLFW_KEY_M)},
              [](const App& app) -> Wanted {
                  return app.setup && !app.setup->openings.empty() ? toggled(app, Sheet::molds) : std::nullopt;
              },
              "swap other choose pick fit shelf thumbnails",
              "",
              While::on_sheet},
             {"mold.before",
              "the mold before the last swap, and back",
              {sign(U'x')},
              [](const App&) -> Wanted { return EditIntent{ToggleMold{}}; },
              "swap"},
             {"compare",
              "differences of the two molds, check by check",
              {sign(U'd')},
              [](const App& app) { return toggled(app, Sheet::compare); },
              "compare swap"}},
            {{"Enter, Esc", "apply what is typed, leave it as it was"},
             {"drop a file", "open that set-up; a mold or a mesh is swapped in"}}};
}

CommandGroup window_group() {
    return {"The window",
            {{"search",
              "search all that the window can do",
              {control(GLFW_KEY_K)},
              [](const App& app) { return toggled(app, Sheet::search); },
              "find command",
              "",
              While::anywhere},
             {"theme",
              "light or dark",
              {control(GLFW_KEY_D)},
              [](const App& app) -> Wanted {
                  return SetTheme{app.theme() == Theme::dark ? ThemeWish::light : ThemeWish::dark};
              },
              "theme colours night lamp"},
             {"theme.desktop",
              "light or dark as the desktop is",
              {},
              [](const App&) -> Wanted { return SetTheme{ThemeWish::as_desktop}; },
              "theme colours system"},
             {"dialogs",
              "files: the desktop's dialogs, or sheets of this window",
              {},
              [](const App& app) -> Wanted {
                  return FileQuestionIntent{WishDialogs{!app.session.settings.desktop_dialogs}};
              },
              "open save browse native choose file"},
             {"guide",
              "guide: from nothing to a saved set-up",
              {key(GLFW_KEY_F1)},
              [](const App& app) { return toggled(app, Sheet::guide); },
              "help how to begin learn",
              "",
              While::anywhere},
             {"keys",
              "list of keys and mouse",
              {sign(U'?')},
              [](const App& app) { return toggled(app, Sheet::keys); },
              "help shortcuts"},
             {"quit",
              "quit",
              {control(GLFW_KEY_Q)},
              [](const App&) -> Wanted { return Quit{}; },
              "leave exit close",
              "",
              While::anywhere}},
            {}};
}

} // namespace

const std::vector<CommandGroup>& command_groups() {
    static const std::vector<CommandGroup> groups{stroke_group(),  findings_group(),  picture_group(),
                                                  closely_group(), documents_group(), window_group()};
    return groups;
}
} // namespace evenclose
