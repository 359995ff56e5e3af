// viewer/ui/open_sheet.hpp: the sheet on which a set-up is found: a path to type, and what lies in that folder.
#pragma once

#include "viewer/app/open_entries.hpp"
#include "viewer/ui/panel.hpp"

#include <string>
#include <vector>

namespace evenclose {

class OpenSheet {
public:
    /// `keys_waiting`: something was typed; the field is taken up if it is not.
    void draw(const Desk& desk, const Rect& window, bool keys_waiting);
    /// The field is ready for what is typed; until then it has to be kept back, or it would be lost.
    [[nodiscard]] bool takes_keys() const { return active_ && !wants_end_; }
    /// It is about to be, within the next frames.
    [[nodiscard]] bool takes_up() const { return wants_focus_ || wants_end_; }
    /// At the next opening it begins in the folder of the set-up that is open then.
    void closed() {
        fresh_ = true;
        active_ = false;
    }

private:
    bool fresh_ = true, active_ = false;
    bool wants_focus_ = false, wants_end_ = false; // the field, and its cursor behind what is there
    std::string typed_;
    std::string listed_for_;
    std::vector<FolderEntry> entries_;
    std::string fault_, fault_for_; // told of what was typed
};

} // namespace evenclose
