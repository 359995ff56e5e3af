// The table of commands: keys, the sheet of keys and the search are made from it.
#include "viewer/ui/commands.hpp"

#include "tests/file_bytes.hpp"
#include "tests/places.hpp"
#include "viewer/ui/keys.hpp"

#include <doctest/doctest.h>

#include <GLFW/glfw3.h>

#include <algorithm>
#include <regex>
#include <set>

using namespace evenclose;

namespace {

std::vector<const Command*> all_commands() { return found_commands(""); }

std::vector<std::string> ids(std::string_view sought) {
    std::vector<std::string> found;
    for (const Command* command : found_commands(sought)) {
        found.push_back(command->id);
    }
    return found;
}

bool has(const std::vector<std::string>& all, const std::string& one) {
    return std::find(all.begin(), all.end(), one) != all.end();
}

const Command* pressed(const Stroke& stroke, bool shifted) {
    if (stroke.key == 0) {
        return command_of_character(stroke.character);
    }
    return command_of_key(stroke.key, (stroke.control ? GLFW_MOD_CONTROL : 0) | (shifted ? GLFW_MOD_SHIFT : 0));
}

} // namespace

TEST_CASE("each command has a name of its own, words, and keys that no other command answers to") {
    std::set<std::string> names, words;
    for (const Command* command : all_commands()) {
        CAPTURE(command->id);
        CHECK(names.insert(command->id).second);
        CHECK(words.insert(command->words).second);
        CHECK(!command->words.empty());
        CHECK(command_with_id(command->id) == command);
        for (const Stroke& stroke : command->strokes) {
            CHECK((stroke.key != 0) != (stroke.character != 0));
            if (stroke.shift != Stroke::Shift::with) {
                CHECK(pressed(stroke, false) == command);
            }
            if (stroke.shift != Stroke::Shift::without) {
                CHECK(pressed(stroke, true) == command);
            }
        }
    }
    CHECK(names.size() >= 40);
    CHECK(command_with_id("no such") == nullptr);
    CHECK(command_of_key(GLFW_KEY_F12, 0) == nullptr);
    CHECK(command_of_key(GLFW_KEY_O, GLFW_MOD_CONTROL | GLFW_MOD_ALT) == nullptr);
}

TEST_CASE("the sheet of keys names every key of every command, and neighbours in one line") {
    std::string sheet;
    std::set<std::string> lines;
    for (const CommandGroup& group : command_groups()) {
        CHECK(!group.title.empty());
        for (const KeyLine& line : key_lines(group)) {
            CAPTURE(line.words);
            CHECK(!line.keys.empty());
            CHECK(lines.insert(line.keys).second);
            sheet += "|" + line.keys + "|" + line.words;
        }
    }
    for (const Command* command : all_commands()) {
        const std::string keys = key_words(*command);
        CAPTURE(command->id);
        if (!keys.empty() && !command->id.starts_with("view.")) {
            CHECK((sheet.find("|" + keys) != std::string::npos || sheet.find(", " + keys) != std::string::npos));
        }
    }
    CHECK(sheet.find("|Up, Down|travel by 1 mm") != std::string::npos);
    CHECK(sheet.find("|Shift Up, Shift Down|travel by 0.1 mm") != std::string::npos);
    CHECK(sheet.find("|1 to 7|corner, front") != std::string::npos);
    CHECK(sheet.find("|Ctrl Shift S|save under") != std::string::npos);
    CHECK(sheet.find("|?|") != std::string::npos);
}

TEST_CASE("a command is found by the beginnings of its words, by other words for it, by its key") {
    CHECK(found_commands("week").front()->id == "week");
    CHECK(found_commands("WEE").front()->id == "week");
    CHECK(found_commands("undo").front()->id == "undo");
    CHECK(found_commands("cautions").front()->id == "cautions");
    CHECK(found_commands("imperial").front()->id == "units");
    CHECK(found_commands("ctrl o").front()->id == "open");
    CHECK(found_commands("save another").front()->id == "save-as");
    CHECK(found_commands("mold before").front()->id == "mold.before");
    CHECK(has(ids("swap"), "compare"));
    CHECK(found_commands("open").front()->id == "travel.open"); // it is told first; to open a set-up is beside it
    CHECK(has(ids("open"), "open"));
    CHECK(ids("qqqq").empty());
    CHECK(ids("save qqqq").empty());
    CHECK(ids("  ") == ids(""));
    // What begins so stands before what only holds it.
    const auto found = ids("la");
    CHECK(found.size() > 1);
    CHECK(!has(ids("eek"), "undo"));
    CHECK(has(ids("eek"), "week"));
}

TEST_CASE("while a text is typed only what is not meant for it is a command") {
    App app;
    app.fields.field = "jacks[0].stroke";
    CHECK(intent_of_key(app, GLFW_KEY_K, GLFW_MOD_CONTROL));
    CHECK(intent_of_key(app, GLFW_KEY_O, GLFW_MOD_CONTROL));
    CHECK(!intent_of_key(app, GLFW_KEY_ESCAPE, 0)); // the field's own
    CHECK(!intent_of_key(app, GLFW_KEY_UP, 0));
    CHECK(!intent_of_key(app, GLFW_KEY_Z, GLFW_MOD_CONTROL));
    CHECK(!intent_of_character(app, U'u'));
    app.fields.field.reset();
    for (const Sheet sheet : {Sheet::open, Sheet::save_as, Sheet::new_press, Sheet::search}) {
        app.sheet = sheet;
        CHECK(std::get<ShowSheet>(*intent_of_key(app, GLFW_KEY_ESCAPE, 0)).sheet == Sheet::none);
        CHECK(intent_of_key(app, GLFW_KEY_Q, GLFW_MOD_CONTROL));
        CHECK(!intent_of_key(app, GLFW_KEY_SPACE, 0));
        CHECK(!intent_of_key(app, GLFW_KEY_F, GLFW_MOD_CONTROL));
        CHECK(!intent_of_character(app, U'?'));
    }
}

TEST_CASE("keys that the README and the window's tips name are keys of the table") {
    std::string text = test::bytes_of(test::source_folder() + "/README.md");
    const std::size_t from = text.find("\n## The window");
    REQUIRE(from != std::string::npos);
    text = text.substr(from, text.find("\n## ", from + 4) - from);
    const std::regex named("`((?:Ctrl |Shift )*(?:[A-Z?]|F1|Esc|Tab))`");
    int count = 0;
    for (std::sregex_iterator at(text.begin(), text.end(), named), end; at != end; ++at, ++count) {
        const std::string keys = (*at)[1];
        CAPTURE(keys);
        const auto commands = all_commands();
        CHECK(std::any_of(commands.begin(), commands.end(), [&](const Command* command) {
            return std::any_of(command->strokes.begin(), command->strokes.end(),
                               [&](const Stroke& stroke) { return key_words(stroke) == keys; });
        }));
    }
    CHECK(count >= 8);
    CHECK(tip_with_key("All keys", "keys") == "All keys  ( ? )");
    CHECK(tip_with_key("All cautions", "cautions") == "All cautions");
}
