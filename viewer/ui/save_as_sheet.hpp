// viewer/ui/save_as_sheet.hpp: the sheet on which a new name is given to a set-up.
#pragma once

#include "viewer/ui/panel.hpp"
#include "viewer/ui/text_field.hpp"

#include <string>

namespace evenclose {

class SaveAsSheet {
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
    TextField field_;
    std::string fault_, fault_for_, asked_for_; // asked_for_: an existing file that Enter was pressed for once
};

} // namespace evenclose
