#include "viewer/ui/new_press_sheet.hpp"

#include "viewer/app/open_entries.hpp"

#include <cstdlib>
#include <filesystem>
#include <system_error>
#include <utility>

namespace evenclose {
namespace {

namespace fs = std::filesystem;

struct Question {
    const char *words, *hint, *id;
};
enum Asked : std::size_t { file, between, daylight, length, depth, load, name };
constexpr std::array<Question, 7> kAsked{{
    {"Where to write it", "a folder, and a name for the three files", "new_press.file"},
    {"Width between the posts", "clear, along the deck", "new_press.between"},
    {"Daylight", "platen to head when open", "new_press.daylight"},
    {"Platen, length", "along the deck", "new_press.length"},
    {"Platen, depth", "front to back", "new_press.depth"},
    {"Load of each jack", "what it is rated for: 30 kN, 3 metric ton", "new_press.load"},
    {"What the shop calls it", "", "new_press.name"},
}};

} // namespace

void NewPressSheet::closed() {
    if (!fresh_) {
        fresh_ = true;
        field_.end();
    }
}

void NewPressSheet::begin(const Desk& desk) {
    std::error_code ignored;
    const fs::path from =
        desk.app.file.empty() ? fs::current_path(ignored) : fs::absolute(desk.app.file, ignored).parent_path();
    const bool metric = desk.app.units == UnitSystem::metric;
    typed_ = {(from / "new").string(),
              metric ? "1160 mm" : "46 in",
              metric ? "300 mm" : "12 in",
              metric ? "1060 mm" : "42 in",
              metric ? "320 mm" : "12 1/2 in",
              metric ? "30 kN" : "6700 lbf",
              "New press"};
    fault_.clear();
    fresh_ = false;
    type_at(between);
}

void NewPressSheet::type_at(std::size_t question) {
    at_ = question;
    field_.begin(typed_[question], question != file);
}

std::variant<NewPressAnswers, NewPressSheet::Fault> NewPressSheet::answers(UnitSystem units) const {
    NewPressAnswers told;
    told.jacks = jacks_;
    told.jack_count = count_;
    told.name = typed_[name];
    const LengthUnit bare = units == UnitSystem::metric ? LengthUnit::mm : LengthUnit::inch;
    const std::pair<std::size_t, double*> lengths[] = {{between, &told.between_posts_mm},
                                                       {daylight, &told.daylight_mm},
                                                       {length, &told.platen_length_mm},
                                                       {depth, &told.platen_depth_mm}};
    for (const auto& [question, value] : lengths) {
        const Read<double> read = read_length_mm(typed_[question], bare);
        if (const auto* fault = std::get_if<Unreadable>(&read)) {
            return Fault{question, std::string(kAsked[question].words) + ": " + fault->why};
        }
        *value = std::get<double>(read);
    }
    const Read<double> force = read_force_N(typed_[load]);
    if (const auto* fault = std::get_if<Unreadable>(&force)) {
        return Fault{load, std::string(kAsked[load].words) + ": " + fault->why};
    }
    told.jack_load_N = std::get<double>(force);
    const std::vector<std::string> faults = faults_of(told);
    if (!faults.empty()) {
        return Fault{at_, faults.front()};
    }
    return told;
}

void NewPressSheet::make(const Desk& desk) {
    const auto told = answers(desk.app.units);
    if (const auto* fault = std::get_if<Fault>(&told)) {
        fault_ = fault->words;
        type_at(fault->question);
        return;
    }
    const fs::path whole = typed_path(typed_[file]);
    std::string stem = whole.filename().string();
    for (const char* ending : {".json", ".set-up"}) {
        if (stem.ends_with(ending)) {
            stem.resize(stem.size() - std::string(ending).size());
        }
    }
    fault_.clear();
    desk.want(EditIntent{MakePress{std::get<NewPressAnswers>(told), whole.parent_path(), stem}});
    type_at(at_);
}

void NewPressSheet::draw(const Desk& desk, const Rect& window, bool keys_waiting) {
    const Pen pen = desk.pen();
    if (fresh_) {
        begin(desk);
    }
    const Rect paper = begin_sheet(desk, window, "sheet.new_press", "A new press from a few questions", 760, 520);
    const float x = paper.x + pen.px(24);
    const float right = paper.right() - pen.px(24);
    float y = paper.y + pen.px(58);
    y += pen.wrapped(x, y, right - x, Face::small, colour::graphite,
                     "A welded steel frame with its jacks, and a block mold to try it with. Every number can be "
                     "edited afterwards. Tab goes on, Enter makes it.") +
         pen.px(8);
    const float step = pen.px(40);
    const float field_x = x + pen.px(220);
    const auto chips = [&](const char* words, const auto& put) {
        pen.text(x, y + pen.px(8), Face::text, colour::ink, words, pen.px(210));
        put();
        y += step;
    };
    for (std::size_t i = 0; i < kQuestions; ++i) {
        if (i == load) {
            chips("Jacks", [&] {
                struct Kind {
                    const char* label;
                    NewPressAnswers::Jacks kind;
                    const char* tip;
                };
                const std::array<Kind, 2> kinds{
                    {{"Screw", NewPressAnswers::Jacks::screw, "A screw stays where it is turned to"},
                     {"Cylinder", NewPressAnswers::Jacks::cylinder,
                      "Hydraulic: a bottle jack, or a cylinder with a pump"}}};
                float at = field_x;
                for (const auto& [label, kind, tip] : kinds) {
                    if (pen.button((std::string("new_press.") + label).c_str(), {at, y, pen.px(90), pen.px(32)}, label,
                                   jacks_ == kind, tip)) {
                        jacks_ = kind;
                        type_at(at_);
                    }
                    at += pen.px(92);
                }
                at += pen.px(24);
                for (const int count : {2, 4}) {
                    if (pen.button(("new_press.count." + std::to_string(count)).c_str(),
                                   {at, y, pen.px(70), pen.px(32)}, count == 2 ? "two" : "four", count_ == count)) {
                        count_ = count;
                        type_at(at_);
                    }
                    at += pen.px(72);
                }
            });
        }
        const bool wide = i == file || i == name;
        pen.text(x, y + pen.px(8), Face::text, colour::ink, kAsked[i].words, pen.px(210));
        const Rect place{field_x, y + pen.px(2), wide ? right - field_x : pen.px(150), pen.px(30)};
        desk.places.note(kAsked[i].id, place);
        if (!wide) {
            pen.text(place.right() + pen.px(14), y + pen.px(9), Face::small, colour::graphite, kAsked[i].hint,
                     right - place.right() - pen.px(14));
        }
        ImGui::PushID(static_cast<int>(i));
        if (at_ == i) {
            const TextField::End end = field_.draw(pen, place, "##answer", keys_waiting, Face::text);
            if (field_.takes_keys()) {
                desk.places.note("new_press.typing", place);
            }
            typed_[i] = field_.open() ? field_.text() : typed_[i];
            if (end == TextField::End::entered) {
                make(desk);
            } else if (end == TextField::End::next || end == TextField::End::previous) {
                type_at((at_ + (end == TextField::End::next ? 1 : kQuestions - 1)) % kQuestions);
            }
        } else {
            const Pressable press = pen.pressable("answer", place);
            pen.fill(place, colour::card, 2);
            pen.outline(place, press.hovered ? colour::accent : colour::pencil, 1, 2);
            if (press.hovered) {
                ImGui::SetMouseCursor(ImGuiMouseCursor_TextInput);
            }
            std::string shown = typed_[i];
            while (pen.width_of(Face::text, "…" + shown) > place.width - pen.px(14) && !shown.empty()) {
                shown.erase(0, 1); // a path's end says more than its beginning
            }
            pen.text(place.x + pen.px(6), place.middle_y() - 0.5F * pen.height_of(Face::text), Face::text, colour::ink,
                     shown == typed_[i] ? shown : "…" + shown);
            if (press.pressed) {
                type_at(i);
            }
        }
        ImGui::PopID();
        y += step;
    }
    const Rect key{x, paper.bottom() - pen.px(50), pen.px(150), pen.px(36)};
    if (pen.answer("new_press.make", key, "Make it", true)) {
        make(desk);
    }
    const std::string& fault = fault_.empty() && desk.app.notice_bad ? desk.app.notice : fault_;
    if (!fault.empty()) {
        const Rect place{key.right() + pen.px(16), key.y, right - key.right() - pen.px(16), key.height};
        pen.wrapped(place.x, place.y, place.width, Face::small, colour::foul_word, fault);
        desk.places.note("new_press.fault", place);
    }
}

} // namespace evenclose
