#include "viewer/ui/commands.hpp"

#include <GLFW/glfw3.h>

#include <algorithm>
#include <cctype>
#include <map>
#include <utility>

namespace evenclose {
namespace {

std::string lower(std::string_view words) {
    std::string out{words};
    std::transform(out.begin(), out.end(), out.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return out;
}

std::vector<std::string> words_in(std::string_view text) {
    std::vector<std::string> found;
    std::string word;
    for (const char c : lower(text) + " ") {
        if (c == ' ') {
            if (!word.empty()) {
                found.push_back(std::exchange(word, {}));
            }
        } else {
            word += c;
        }
    }
    return found;
}

/// How far off: 0 a word begins so, 1 one holds it; none if neither.
std::optional<int> held_by(const std::string& part, const std::string& text) {
    const std::size_t at = text.find(part);
    if (at == std::string::npos) {
        return std::nullopt;
    }
    return at == 0 || text.find(" " + part) != std::string::npos ? 0 : 1;
}

std::optional<int> distance(const Command& command, const std::vector<std::string>& parts) {
    const std::string words = lower(command.words);
    const std::string also = lower(command.also);
    const std::string keys = lower(key_words(command));
    std::string typed;
    for (const std::string& part : parts) {
        typed += (typed.empty() ? "" : " ") + part;
    }
    if (!keys.empty() && typed == keys) {
        return -1; // its very key
    }
    int sum = 0;
    for (const std::string& part : parts) {
        if (const auto in_words = held_by(part, words)) {
            sum += *in_words * 2;
        } else if (const auto in_also = held_by(part, also)) {
            sum += 1 + *in_also * 2;
        } else if (!keys.empty() && held_by(part, keys) == 0) {
            sum += 1;
        } else {
            return std::nullopt;
        }
    }
    return sum;
}

bool fits(const Stroke& stroke, bool shifted) {
    return stroke.shift == Stroke::Shift::either || (stroke.shift == Stroke::Shift::with) == shifted;
}

template <class Holds> const Command* first_command(const Holds& holds) {
    for (const CommandGroup& group : command_groups()) {
        const auto found = std::find_if(group.commands.begin(), group.commands.end(), holds);
        if (found != group.commands.end()) {
            return &*found;
        }
    }
    return nullptr;
}

} // namespace

const Command* command_with_id(std::string_view id) {
    return first_command([&](const Command& command) { return command.id == id; });
}

const Command* command_of_key(int pressed, int mods) {
    if ((mods & (GLFW_MOD_ALT | GLFW_MOD_SUPER)) != 0) {
        return nullptr;
    }
    const bool controlled = (mods & GLFW_MOD_CONTROL) != 0;
    const bool shifted = (mods & GLFW_MOD_SHIFT) != 0;
    return first_command([&](const Command& command) {
        return std::any_of(command.strokes.begin(), command.strokes.end(), [&](const Stroke& stroke) {
            return stroke.key != 0 && stroke.key == pressed && stroke.control == controlled && fits(stroke, shifted);
        });
    });
}

const Command* command_of_character(char32_t character) {
    if (character >= U'A' && character <= U'Z') {
        character += U'a' - U'A';
    }
    return first_command([&](const Command& command) {
        return std::any_of(command.strokes.begin(), command.strokes.end(),
                           [&](const Stroke& stroke) { return stroke.key == 0 && stroke.character == character; });
    });
}

std::string key_words(const Stroke& stroke) {
    static const std::map<int, std::string> names{{GLFW_KEY_SPACE, "Space"},
                                                  {GLFW_KEY_UP, "Up"},
                                                  {GLFW_KEY_DOWN, "Down"},
                                                  {GLFW_KEY_LEFT, "Left"},
                                                  {GLFW_KEY_RIGHT, "Right"},
                                                  {GLFW_KEY_PAGE_UP, "Page Up"},
                                                  {GLFW_KEY_PAGE_DOWN, "Page Down"},
                                                  {GLFW_KEY_HOME, "Home"},
                                                  {GLFW_KEY_END, "End"},
                                                  {GLFW_KEY_TAB, "Tab"},
                                                  {GLFW_KEY_ESCAPE, "Esc"},
                                                  {GLFW_KEY_ENTER, "Enter"},
                                                  {GLFW_KEY_F1, "F1"}};
    std::string words = stroke.control ? "Ctrl " : "";
    words += stroke.shift == Stroke::Shift::with ? "Shift " : "";
    if (stroke.key == 0) {
        return words + static_cast<char>(std::toupper(static_cast<unsigned char>(stroke.character)));
    }
    const auto named = names.find(stroke.key);
    if (named != names.end()) {
        return words + named->second;
    }
    return words + static_cast<char>(stroke.key); // letters and digits are numbered as ASCII has them
}

std::string key_words(const Command& command) {
    return command.strokes.empty() ? std::string() : key_words(command.strokes.front());
}

std::string tip_with_key(std::string_view words, std::string_view id) {
    const Command* command = command_with_id(id);
    const std::string keys = command != nullptr ? key_words(*command) : std::string();
    return std::string(words) + (keys.empty() ? "" : "  ( " + keys + " )");
}

std::vector<KeyLine> key_lines(const CommandGroup& group) {
    std::vector<KeyLine> lines;
    std::string last, together;
    int count = 0;
    // Three and more in a row are told by the first and the last.
    const auto close = [&] {
        if (count > 1) {
            lines.back().keys += (count > 2 ? " to " : ", ") + last;
        }
        count = 0;
    };
    for (const Command& command : group.commands) {
        if (command.strokes.empty()) {
            continue;
        }
        if (count > 0 && !together.empty() && command.together == together) {
            last = key_words(command);
            ++count;
            continue;
        }
        close();
        together = command.together;
        lines.push_back({key_words(command), together.empty() ? command.words : together});
        count = 1;
    }
    close();
    lines.insert(lines.end(), group.by_hand.begin(), group.by_hand.end());
    return lines;
}

std::vector<const Command*> found_commands(std::string_view sought) {
    const std::vector<std::string> parts = words_in(sought);
    std::vector<std::pair<int, const Command*>> found;
    for (const CommandGroup& group : command_groups()) {
        for (const Command& command : group.commands) {
            if (const auto off = distance(command, parts)) {
                found.emplace_back(*off, &command);
            }
        }
    }
    std::stable_sort(found.begin(), found.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    std::vector<const Command*> commands;
    for (const auto& [off, command] : found) {
        commands.push_back(command);
    }
    return commands;
}

} // namespace evenclose
