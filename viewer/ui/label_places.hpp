// viewer/ui/label_places.hpp: where labels stand beside what they name, none over another, none over what must be read.
//
// As on a drawing: two columns at the picture's sides, each label level with its body as nearly as may be, in the order of
// their heights, so that leaders in a column do not tangle. Places in a column are slots of one height; which label takes
// which slot is chosen so that the sum of the squared shifts is least (dynamic programming over both orders: an alignment,
// Needleman & Wunsch, J. Mol. Biol. 48, 1970).
//
// Pure. Threads: any.
#pragma once

#include "viewer/ui/layout.hpp"

#include <cstddef>
#include <vector>

namespace evenclose {

struct WantedLabel {
    float x = 0, y = 0;   // where its leader ends, in the picture
    float width = 0;      // of the words
    float importance = 0; // where there is no room for all, the least ones go
};

struct PlacedLabel {
    std::size_t label = 0; // into what was wanted
    Rect rect;
    bool left = true; // in which column: its leader starts at the other side
};

struct LabelRoom {
    Rect picture;
    float height = 20, gap = 4; // of a label, between two
    float margin = 8;           // from the picture's sides
    float most_width = 200;     // a wider one is as wide as this
    std::vector<Rect> taken;    // what no label may cover
};

/// In the order of what was wanted, without those that found no room.
[[nodiscard]] std::vector<PlacedLabel> place_labels(const std::vector<WantedLabel>& wanted, const LabelRoom& room);

} // namespace evenclose
