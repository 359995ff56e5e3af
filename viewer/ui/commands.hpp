// viewer/ui/commands.hpp: everything that the window can do, in one table: the keys, the sheet of keys and the search for
// commands are all made from it, so that none can tell what another does not know. Pure, tested without a screen.
//
// Letters and signs are taken as the characters that the keyboard's layout makes of them; what makes no character (and
// the digits and the space bar, which a layout may put behind Shift) as keys.
#pragma once

#include "viewer/app/app.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace evenclose {

/// What is pressed for a command: a key, as GLFW numbers it, or a character (a letter: large or small).
struct Stroke {
    enum class Shift { either, without, with };
    int key = 0; // 0: `character`
    char32_t character = 0;
    bool control = false;
    Shift shift = Shift::either;
};

struct Command {
    std::string id;    // "units"
    std::string words; // what it does, in the trade's words
    std::vector<Stroke> strokes;
    std::optional<Intent> (*intent)(const App&); // none: it makes no sense now
    std::string also = {};                       // other words that it is found by
    std::string together = {}; // told in one line of the sheet with neighbours of the same `together`, in these words
    /// Whether it is meant even while a text is typed: never, in a field of the bench, on a sheet, anywhere.
    enum class WhileTyping { no, in_field, on_sheet, anywhere } while_typing = WhileTyping::no;
};

/// A line of the sheet of keys.
struct KeyLine {
    std::string keys, words;
};

struct CommandGroup {
    std::string title;
    std::vector<Command> commands;
    std::vector<KeyLine> by_hand; // what is done with the mouse, or only while typing
};

/// The table itself: command_table.cpp.
[[nodiscard]] const std::vector<CommandGroup>& command_groups();
/// The group's lines on the sheet: its commands that have keys, then what is done by hand.
[[nodiscard]] std::vector<KeyLine> key_lines(const CommandGroup& group);

/// Null if there is none.
[[nodiscard]] const Command* command_with_id(std::string_view id);
/// `mods` as GLFW numbers them. Null if nothing is meant by it.
[[nodiscard]] const Command* command_of_key(int key, int mods);
[[nodiscard]] const Command* command_of_character(char32_t character);

/// "Ctrl Shift S", "Page Up", "?"; for several the first. Empty for none.
[[nodiscard]] std::string key_words(const Command& command);
[[nodiscard]] std::string key_words(const Stroke& stroke);
/// What a thing does and the key that does it too, for beside the cursor: "All keys  ( ? )".
[[nodiscard]] std::string tip_with_key(std::string_view words, std::string_view id);

/// Those that hold every word of `sought`, the best first: words that begin so before words that only hold it, what a
/// command does before other words for it. All of them, in the table's order, for nothing sought.
[[nodiscard]] std::vector<const Command*> found_commands(std::string_view sought);

} // namespace evenclose
