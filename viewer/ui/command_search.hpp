// viewer/ui/command_search.hpp: the sheet on which a command is found by a few letters and done with Enter.
#pragma once

#include "viewer/ui/commands.hpp"
#include "viewer/ui/panel.hpp"
#include "viewer/ui/text_field.hpp"

#include <vector>

namespace evenclose {

class CommandSearch {
public:
    void draw(const Desk& desk, const Rect& window, bool keys_waiting);
    [[nodiscard]] bool takes_keys() const { return field_.takes_keys(); }
    [[nodiscard]] bool takes_up() const { return field_.takes_up(); }
    void closed() {
        if (field_.open()) {
            field_.end();
        }
    }

private:
    void rows(const Desk& desk, const Rect& body);
    void do_it(const Desk& desk, const Command& command) const;

    TextField field_{TextField::Over::list};
    std::vector<const Command*> found_; // for what is typed
    std::size_t chosen_ = 0;            // into found_
    bool scrolls_ = false;              // the chosen row is to be brought into sight
    bool left_ = false;                 // the field lost the keys
};

} // namespace evenclose
