// viewer/ui/places.hpp: where on the screen things were drawn in a frame, and which words did not fit.
//
// For the state file that tests read (DEVELOPERS.md), and for asking ourselves whether any words were cut off.
#pragma once

#include "viewer/ui/layout.hpp"

#include <map>
#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace evenclose {

struct Places {
    std::map<std::string, Rect> rects; // "rail.handle", "ledger.row.0", ...
    std::vector<std::string> cut;      // texts shortened for want of room
    std::set<char32_t> unprintable;    // characters that the font has not got
    std::string number;                // the one under the mouse, with its unit

    void note(const std::string& name, const Rect& rect) { rects.insert_or_assign(name, rect); }
    /// What lies over the picture so far: slips, buttons, tags.
    [[nodiscard]] std::vector<Rect> on_picture() const {
        std::vector<Rect> found;
        for (const auto& [name, rect] : rects) {
            for (const std::string_view group : {"picture.", "see.", "look.", "measure.", "section.handle", "notice"}) {
                if (name.starts_with(group) && name != "picture.press") {
                    found.push_back(rect);
                    break;
                }
            }
        }
        return found;
    }
    void clear() {
        rects.clear();
        cut.clear();
        unprintable.clear();
        number.clear();
    }
};

} // namespace evenclose
