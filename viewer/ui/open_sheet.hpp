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
    int select_end_frames_ = 0;
    std::string typed_;
    std::string listed_for_;
    std::vector<FolderEntry> entries_;
    std::string fault_;
};

} // namespace evenclose
