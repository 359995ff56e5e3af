// viewer/ui/open_sheet.hpp: the sheet on which a set-up is found: a path to type, and what lies in that folder.
#pragma once

#include "viewer/app/open_entries.hpp"
#include "viewer/ui/panel.hpp"

#include <string>
#include <vector>

namespace evenclose {

class OpenSheet {
public:
    void draw(const Desk& desk, const Rect& window);
    /// At the next opening it begins in the folder of the set-up that is open then.
    void closed() { fresh_ = true; }

private:
    bool fresh_ = true;
    bool wants_focus_ = false, wants_end_ = false; // the field, and its cursor behind what is there
    std::string typed_;
    std::string listed_for_;
    std::vector<FolderEntry> entries_;
    std::string fault_, fault_for_; // told of what was typed
};

} // namespace evenclose
