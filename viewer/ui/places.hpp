// viewer/ui/places.hpp: where on the screen things were drawn in a frame, and which words did not fit.
//
// For the state file that tests read (DEVELOPERS.md), and for asking ourselves whether any words were cut off.
#pragma once

#include "viewer/ui/layout.hpp"

#include <map>
#include <set>
#include <string>
#include <vector>

namespace evenclose {

struct Places {
    std::map<std::string, Rect> rects; // "rail.handle", "ledger.row.0", ...
    std::vector<std::string> cut;      // texts shortened for want of room
    std::set<char32_t> unprintable;    // characters that the font has not got
    std::string number;                // the one under the mouse, with its unit

    void note(const std::string& name, const Rect& rect) { rects.insert_or_assign(name, rect); }
    void clear() {
        rects.clear();
        cut.clear();
        unprintable.clear();
        number.clear();
    }
};

} // namespace evenclose
