#include "viewer/ui/keys.hpp"

#include "viewer/ui/commands.hpp"

namespace evenclose {

std::optional<Intent> intent_of_key(const App& app, int key, int mods) {
    const Command* command = command_of_key(key, mods);
    if (command == nullptr) {
        return std::nullopt;
    }
    using While = Command::WhileTyping;
    const While here = app.fields.field ? While::in_field : While::on_sheet;
    if (app.typing() && command->while_typing != While::anywhere && command->while_typing != here) {
        return std::nullopt;
    }
    return command->intent(app);
}

std::optional<Intent> intent_of_character(const App& app, char32_t character) {
    const Command* command = app.typing() ? nullptr : command_of_character(character);
    return command != nullptr ? command->intent(app) : std::nullopt;
}

} // namespace evenclose
