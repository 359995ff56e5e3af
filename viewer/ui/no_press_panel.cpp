#include "viewer/ui/picture_panel.hpp"
#include "viewer/ui/words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <filesystem>
#include <system_error>

namespace evenclose {
namespace {

/// The demo as it was built beside the program; empty if it is not there. Looked for once.
std::string demo_setup() {
    static const std::string found = [] {
        std::error_code fault;
        const std::filesystem::path program = std::filesystem::read_symlink("/proc/self/exe", fault);
        const std::filesystem::path demo = program.parent_path() / "demo" / "crescent.set-up.json";
        return !fault && std::filesystem::is_regular_file(demo, fault) ? demo.string() : std::string();
    }();
    return found;
}

void welcome(const Desk& desk, const Pen& pen, const Rect& rect) {
    const float room = std::min(rect.width - pen.px(80), pen.px(560));
    const float x = std::round(rect.middle_x() - 0.5F * room);
    float y = rect.y + std::max(0.5F * (rect.height - pen.px(380)), pen.px(24));
    pen.text(x, y, Face::title, colour::ink, "Does the mold close evenly in this press?", room);
    y += pen.px(40);
    y += pen.wrapped(
        x, y, room, Face::text, colour::ink,
        "Give Evenclose a set-up: a file that names your press, the mold in it and what room you ask for. It "
        "then runs the whole stroke and says what fits, what is tight and what fouls, with numbers.");
    y += pen.px(22);
    const std::array<const char*, 3> steps{
        "Drop a set-up file on this window, or press Ctrl O and type where it is.",
        "Look at the press, pull the platen up the rail, press Space to let it run.",
        "Read the ledger below, worst first; choose a line to be taken to the spot."};
    for (std::size_t i = 0; i < steps.size(); ++i) {
        pen.text(x, y - pen.px(3), Face::title, colour::accent, std::to_string(i + 1));
        y += pen.wrapped(x + pen.px(30), y, room - pen.px(30), Face::text, colour::ink, steps[i]) + pen.px(14);
    }
    pen.wrapped(x + pen.px(30), y, room - pen.px(30), Face::small, colour::graphite,
                "F1 opens a short guide to read here; Ctrl K finds all that the window can do.");
    y += pen.px(26);
    const auto key = [&](const char* id, const char* words, int place, bool main) {
        const Rect spot{x + static_cast<float>(place) * pen.px(162), y, pen.px(150), pen.px(36)};
        return pen.answer(id, spot, words, main);
    };
    if (key("welcome.open", "Open a set-up", 0, true)) {
        desk.want(FileQuestionIntent{AskForFile{FileQuestion::open}});
    }
    if (key("welcome.new", "New press", 1, false)) {
        desk.want(ShowSheet{Sheet::new_press});
    }
    const std::string demo = demo_setup();
    if (!demo.empty() && key("welcome.demo", "Look at the demo", 2, false)) {
        desk.want(OpenSetup{demo});
    }
    y += pen.px(52);
    for (std::size_t i = 0; i < desk.app.session.recent.size() && y + pen.px(22) < rect.bottom(); ++i) {
        const std::string& file = desk.app.session.recent[i];
        const Rect row{x, y, room, pen.px(22)};
        ImGui::PushID(static_cast<int>(i));
        const Pressable press = pen.pressable("recent", row);
        ImGui::PopID();
        desk.places.note(fmt::format("welcome.recent.{}", i), row);
        if (press.hovered) {
            pen.fill(row, colour::accent_pale, 2);
            ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
            pen.tip(file);
        }
        pen.text(x + pen.px(4), y + pen.px(3), Face::small, colour::accent, file_name(file), room - pen.px(8));
        if (press.pressed) {
            desk.want(OpenSetup{file});
        }
        y += pen.px(22);
    }
}

void fault_list(const Desk& desk, const Pen& pen, const Rect& rect) {
    const App& app = desk.app;
    const float x = rect.x + pen.px(28);
    const float room = rect.width - pen.px(56);
    float y = rect.y + pen.px(22);
    const std::string title = app.stage == Stage::failed ? "The check broke off" : "This set-up cannot be used yet";
    pen.text(x, y, Face::title, colour::foul_word, title, room);
    y += pen.px(32);
    pen.text(x, y, Face::small, colour::graphite, app.file, room);
    y += pen.px(26);
    ImGui::SetCursorScreenPos({rect.x, y});
    const float foot = pen.px(48);
    ImGui::BeginChild("faults", {rect.width, rect.bottom() - foot - y}, false, ImGuiWindowFlags_NoBackground);
    {
        const Pen inside = desk.pen();
        float at = ImGui::GetCursorScreenPos().y;
        const float start = at;
        for (const std::string& fault : app.faults) {
            inside.fill({x, at + inside.px(7), inside.px(8), inside.px(8)}, colour::foul);
            const float high =
                inside.wrapped(x + inside.px(20), at, room - inside.px(30), Face::text, colour::ink, fault);
            desk.places.note(fmt::format("fault.{}", &fault - app.faults.data()), {x, at, room, high});
            at += high + inside.px(10);
        }
        ImGui::SetCursorScreenPos({rect.x, start});
        ImGui::Dummy({1, at - start});
    }
    ImGui::EndChild();
    pen.text(x, rect.bottom() - pen.px(34), Face::text, colour::accent, "Mend the file and press R to read it again.",
             room);
}

} // namespace

void no_press_panel(const Desk& desk, const Rect& rect) {
    const Pen pen = desk.pen();
    pen.fill(rect, colour::paper);
    const Stage stage = desk.app.stage;
    if (stage == Stage::empty) {
        welcome(desk, pen, rect);
    } else if (stage == Stage::faulty || stage == Stage::failed) {
        fault_list(desk, pen, rect);
    } else {
        const std::string name = file_name(desk.app.file);
        pen.text(rect.middle_x(), rect.middle_y() - pen.px(20), Face::title, colour::ink,
                 stage == Stage::reading ? "Reading " + name + " …" : "Stopped reading " + name,
                 rect.width - pen.px(60), Align::middle);
        if (stage == Stage::stopped) {
            pen.text(rect.middle_x(), rect.middle_y() + pen.px(12), Face::text, colour::graphite,
                     "Press R to read it again.", rect.width - pen.px(60), Align::middle);
        }
    }
}

} // namespace evenclose
