#include "viewer/ui/label_places.hpp"

#include "viewer/ui/free_place.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

namespace evenclose {
namespace {

/// Tops of the places in a column in which a label as wide as any of it covers nothing.
std::vector<float> slots_of(const Rect& column, const LabelRoom& room) {
    std::vector<float> tops;
    for (float y = column.y; y + room.height <= column.bottom() + 0.01F;) {
        const Rect slot{column.x, y, column.width, room.height};
        const auto over = std::find_if(room.taken.begin(), room.taken.end(),
                                       [&](const Rect& rect) { return rect.width > 0 && overlap(slot, rect); });
        if (over == room.taken.end()) {
            tops.push_back(y);
            y += room.height + room.gap;
        } else {
            y = std::max(over->bottom() + room.gap, y + 1.0F);
        }
    }
    return tops;
}

/// Which slot each of the labels takes, both in order from above. Needs: no more labels than slots.
std::vector<std::size_t> slots_taken(const std::vector<float>& heights, const std::vector<float>& slots) {
    const std::size_t n = heights.size();
    const std::size_t m = slots.size();
    constexpr double kNever = std::numeric_limits<double>::infinity();
    // least[i][j]: of the first i labels in the first j slots.
    std::vector<std::vector<double>> least(n + 1, std::vector<double>(m + 1, kNever));
    std::fill(least[0].begin(), least[0].end(), 0.0);
    const auto cost = [&](std::size_t i, std::size_t j) {
        const double off = static_cast<double>(heights[i]) - slots[j];
        return off * off;
    };
    for (std::size_t i = 1; i <= n; ++i) {
        for (std::size_t j = i; j <= m; ++j) {
            least[i][j] = std::min(least[i][j - 1], least[i - 1][j - 1] + cost(i - 1, j - 1));
        }
    }
    std::vector<std::size_t> taken(n);
    std::size_t j = m;
    for (std::size_t i = n; i > 0; --i) {
        while (least[i][j] == least[i][j - 1]) {
            --j;
        }
        taken[i - 1] = --j;
    }
    return taken;
}

struct Column {
    Rect rect;
    bool left = true;
    std::vector<std::size_t> labels;
};

} // namespace

std::vector<PlacedLabel> place_labels(const std::vector<WantedLabel>& wanted, const LabelRoom& room) {
    // Which side: the nearer one; of a full side the least important go over, and then away.
    std::vector<std::size_t> order(wanted.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return wanted[a].importance > wanted[b].importance; });
    float widest = 0;
    for (const WantedLabel& label : wanted) {
        widest = std::max(widest, std::min(label.width, room.most_width));
    }
    const float high = room.picture.height - 2 * room.margin;
    Column left{{room.picture.x + room.margin, room.picture.y + room.margin, widest, high}, true, {}};
    Column right{{room.picture.right() - room.margin - widest, room.picture.y + room.margin, widest, high}, false, {}};
    std::vector<PlacedLabel> placed;
    if (widest <= 0 || room.picture.width < 2 * widest + 2 * room.margin) {
        return placed;
    }
    const std::vector<float> left_slots = slots_of(left.rect, room);
    const std::vector<float> right_slots = slots_of(right.rect, room);
    for (const std::size_t i : order) {
        const bool leftward = wanted[i].x < room.picture.middle_x();
        const bool left_free = left.labels.size() < left_slots.size();
        const bool right_free = right.labels.size() < right_slots.size();
        if (left_free && (leftward || !right_free)) {
            left.labels.push_back(i);
        } else if (right_free) {
            right.labels.push_back(i);
        }
    }
    for (Column* column : {&left, &right}) {
        std::stable_sort(column->labels.begin(), column->labels.end(),
                         [&](std::size_t a, std::size_t b) { return wanted[a].y < wanted[b].y; });
        const std::vector<float>& slots = column->left ? left_slots : right_slots;
        std::vector<float> tops;
        for (const std::size_t i : column->labels) {
            tops.push_back(wanted[i].y - 0.5F * room.height);
        }
        const std::vector<std::size_t> taken = slots_taken(tops, slots);
        for (std::size_t k = 0; k < taken.size(); ++k) {
            const float width = std::min(wanted[column->labels[k]].width, room.most_width);
            const float x = column->left ? column->rect.x : column->rect.right() - width;
            placed.push_back({column->labels[k], {x, slots[taken[k]], width, room.height}, column->left});
        }
    }
    std::sort(placed.begin(), placed.end(),
              [](const PlacedLabel& a, const PlacedLabel& b) { return a.label < b.label; });
    return placed;
}

} // namespace evenclose
