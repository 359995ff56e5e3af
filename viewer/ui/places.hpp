// viewer/ui/places.hpp: where on the screen things were drawn in a frame, and which words did not fit.
//
// For the state file that tests read (DEVELOPERS.md), and for asking ourselves whether any words were cut off.
#pragma once

#include "viewer/ui/layout.hpp"

#include <map>
#include <string>
#include <vector>

namespace evenclose {

struct Places {
    std::map<std::string, Rect> rects; // "rail.handle", "ledger.row.0", ...
    std::vector<std::string> cut;      // texts shortened for want of room

    void note(std::string name, const Rect& rect) { rects.insert_or_assign(std::move(name), rect); }
    void clear() {
        rects.clear();
        cut.clear();
    }
};

} // namespace evenclose
