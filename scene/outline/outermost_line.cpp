#include "scene/outline/outermost_line.hpp"

#include "scene/mesh/predicates.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>

namespace evenclose {
namespace {

// Holes and marks of a deck are some dozens; more is a sheet of many parts.
constexpr std::size_t kMostLoops = 500;
// Pairs of edges are compared one by one up to here: some tenths of a second. A longer outline is taken as it is.
constexpr std::size_t kMostForCrossings = 8000;

// Of so many lines between the same two ends it is asked whether a further one was drawn before.
constexpr std::size_t kMostAlike = 16;

double twice_area(const std::vector<Vec2>& loop) {
    double sum = 0;
    for (std::size_t i = 1; i + 1 < loop.size(); ++i) {
        const Vec2 a = loop[i] - loop[0], b = loop[i + 1] - loop[0];
        sum += a.x * b.y - a.y * b.x;
    }
    return sum;
}

struct Extent {
    Vec2 low{1e300}, high{-1e300};
    explicit Extent(const std::vector<Vec2>& places) {
        for (const Vec2& at : places) {
            low = glm::min(low, at);
            high = glm::max(high, at);
        }
    }
    [[nodiscard]] std::string size() const { return fmt::format("{:.6g} x {:.6g}", high.x - low.x, high.y - low.y); }
};

std::string at(Vec2 place) { return fmt::format("({:.6g}, {:.6g})", place.x + 0.0, place.y + 0.0); }

/// Within the loop, or on it.
bool covers(const std::vector<Vec2>& loop, Vec2 place, double near) {
    bool odd = false;
    for (std::size_t i = 0, j = loop.size() - 1; i < loop.size(); j = i++) {
        const Vec2 edge = loop[i] - loop[j];
        const double squared = glm::dot(edge, edge);
        const double along = squared > 0 ? std::clamp(glm::dot(place - loop[j], edge) / squared, 0.0, 1.0) : 0.0;
        if (glm::length(place - loop[j] - along * edge) <= near) {
            return true;
        }
        if ((loop[i].y > place.y) != (loop[j].y > place.y) &&
            place.x < (loop[j].x - loop[i].x) * (place.y - loop[i].y) / (loop[j].y - loop[i].y) + loop[i].x) {
            odd = !odd;
        }
    }
    return odd;
}

struct Loop {
    std::vector<Vec2> places;
    std::size_t line = 0;
};

/// Open lines and the places where their ends meet.
class Ends {
public:
    Ends(const std::vector<const PlanLine*>& lines, double meet) : lines_(lines), meet_(meet) {
        nodes_of_.resize(lines.size());
        for (std::size_t i = 0; i < lines.size(); ++i) {
            nodes_of_[i] = {node(lines[i]->places.front()), node(lines[i]->places.back())};
            std::vector<std::size_t>& same = between_[std::minmax(nodes_of_[i][0], nodes_of_[i][1])];
            const auto looked_at = same.begin() + static_cast<std::ptrdiff_t>(std::min(same.size(), kMostAlike));
            const bool twice = std::any_of(same.begin(), looked_at, [&](std::size_t other) { return alike(i, other); });
            used_.push_back(twice);
            if (!twice) {
                same.push_back(i);
                ends_[nodes_of_[i][0]].push_back(i);
                ends_[nodes_of_[i][1]].push_back(i);
            }
        }
    }

    struct Chain {
        std::vector<std::pair<std::size_t, bool>> lines; // and whether from its end to its start
        bool closed = false;
        std::size_t first_node = 0, last_node = 0;
    };
    /// Every line once, joined as far as just two meet.
    std::vector<Chain> chains() {
        std::vector<Chain> result;
        for (std::size_t i = 0; i < lines_.size(); ++i) {
            if (used_[i]) {
                continue;
            }
            // Back to where the chain begins, then along all of it.
            const std::pair<std::size_t, bool> start = walk(i, true).lines.back();
            const std::size_t first = start.first;
            Chain chain = walk(first, !start.second);
            for (const auto& part : chain.lines) {
                used_[part.first] = true;
            }
            result.push_back(std::move(chain));
        }
        return result;
    }
    [[nodiscard]] std::size_t meeting(std::size_t node) const { return ends_[node].size(); }
    [[nodiscard]] Vec2 place(std::size_t node) const { return nodes_[node]; }

private:
    using Cell = std::pair<std::int64_t, std::int64_t>;

    std::size_t node(Vec2 at) {
        const Cell cell{std::llround(at.x / meet_), std::llround(at.y / meet_)};
        for (std::int64_t dx = -1; dx <= 1; ++dx) {
            for (std::int64_t dy = -1; dy <= 1; ++dy) {
                const auto found = cells_.find({cell.first + dx, cell.second + dy});
                if (found != cells_.end()) {
                    for (const std::size_t candidate : found->second) {
                        if (glm::length(nodes_[candidate] - at) <= meet_) {
                            return candidate;
                        }
                    }
                }
            }
        }
        nodes_.push_back(at);
        ends_.emplace_back();
        cells_[cell].push_back(nodes_.size() - 1);
        return nodes_.size() - 1;
    }

    [[nodiscard]] bool alike(std::size_t a, std::size_t b) const {
        const std::vector<Vec2>& one = lines_[a]->places;
        const std::vector<Vec2>& two = lines_[b]->places;
        if (one.size() != two.size()) {
            return false;
        }
        bool forward = true, backward = true;
        for (std::size_t i = 0; i < one.size() && (forward || backward); ++i) {
            forward = forward && glm::length(one[i] - two[i]) <= meet_;
            backward = backward && glm::length(one[i] - two[two.size() - 1 - i]) <= meet_;
        }
        return forward || backward;
    }

    /// From line `first` (backward: from its end to its start) as far as just two lines meet.
    [[nodiscard]] Chain walk(std::size_t first, bool backward) const {
        Chain chain;
        std::size_t line = first;
        chain.first_node = nodes_of_[first][backward ? 1 : 0];
        while (true) {
            chain.lines.emplace_back(line, backward);
            const std::size_t here = nodes_of_[line][backward ? 0 : 1];
            chain.last_node = here;
            if (here == chain.first_node) {
                chain.closed = ends_[here].size() == 2;
                return chain;
            }
            if (ends_[here].size() != 2) {
                return chain;
            }
            line = ends_[here][0] == line ? ends_[here][1] : ends_[here][0];
            backward = nodes_of_[line][0] != here;
        }
    }

    const std::vector<const PlanLine*>& lines_;
    double meet_;
    std::vector<Vec2> nodes_;
    std::vector<std::vector<std::size_t>> ends_; // of each node: lines that end there
    std::map<Cell, std::vector<std::size_t>> cells_;
    std::map<std::pair<std::size_t, std::size_t>, std::vector<std::size_t>> between_;
    std::vector<std::array<std::size_t, 2>> nodes_of_;
    std::vector<bool> used_;
};

void drop_repeats(std::vector<Vec2>& loop) {
    loop.erase(std::unique(loop.begin(), loop.end()), loop.end());
    while (loop.size() > 1 && loop.front() == loop.back()) {
        loop.pop_back();
    }
}

Loop joined(const Ends::Chain& chain, const std::vector<const PlanLine*>& lines) {
    Loop loop;
    loop.line = lines[chain.lines.front().first]->line;
    for (const auto& [line, backward] : chain.lines) {
        std::vector<Vec2> places = lines[line]->places;
        if (backward) {
            std::reverse(places.begin(), places.end());
        }
        loop.places.insert(loop.places.end(), places.begin(), places.end() - 1); // its end is the next one's begin
    }
    return loop;
}

/// One place where two edges cross. Touching is let pass: a line may come back to its own corner.
std::optional<Vec2> crossing(const std::vector<Vec2>& loop) {
    const std::size_t n = loop.size();
    for (std::size_t i = 0; i < n; ++i) {
        const Vec2 &a = loop[i], &b = loop[(i + 1) % n];
        for (std::size_t j = i + 2; j < n - (i == 0 ? 1 : 0); ++j) {
            const Vec2 &c = loop[j], &d = loop[(j + 1) % n];
            if (std::max(a.x, b.x) < std::min(c.x, d.x) || std::max(c.x, d.x) < std::min(a.x, b.x) ||
                std::max(a.y, b.y) < std::min(c.y, d.y) || std::max(c.y, d.y) < std::min(a.y, b.y)) {
                continue;
            }
            if (orientation(a, b, c) * orientation(a, b, d) < 0 && orientation(c, d, a) * orientation(c, d, b) < 0) {
                const Vec2 e = b - a, f = d - c;
                return a + e * ((c.x - a.x) * f.y - (c.y - a.y) * f.x) / (e.x * f.y - e.y * f.x);
            }
        }
    }
    return {};
}

DrawingFault nothing_drawn(const Drawing& drawing) {
    std::vector<std::string> held;
    for (const auto& [what, count] : drawing.left_out) {
        held.push_back(fmt::format("{} {}", count, what));
    }
    const bool blocks = drawing.left_out.contains("INSERT") || drawing.left_out.contains("use");
    return {held.empty() ? "holds no line at all"
                         : fmt::format("holds no line that could be an outline, only {}", fmt::join(held, ", ")),
            blocks ? "blocks and clones are not followed: break them up into lines"
                   : "draw the deck's outline as lines"};
}

DrawingFault nothing_closed(const std::vector<Ends::Chain>& chains, const Ends& ends,
                            const std::vector<const PlanLine*>& lines, double meet) {
    const Ends::Chain* longest = nullptr;
    double most = -1;
    for (const Ends::Chain& chain : chains) {
        double length = 0;
        for (const auto& part : chain.lines) {
            const std::vector<Vec2>& places = lines[part.first]->places;
            for (std::size_t i = 1; i < places.size(); ++i) {
                length += glm::length(places[i] - places[i - 1]);
            }
        }
        if (length > most) {
            most = length;
            longest = &chain;
        }
    }
    const std::size_t from = longest->first_node, to = longest->last_node;
    const std::string allowed = fmt::format("close the outline: ends may be {:.3g} apart", meet);
    const std::size_t line = lines[longest->lines.front().first]->line;
    for (const std::size_t end : {to, from}) {
        if (ends.meeting(end) > 2) {
            return {fmt::format("line {}: no closed line: {} lines meet at {}", line, ends.meeting(end),
                                at(ends.place(end))),
                    "an outline has two at each corner; take away what does not belong to it"};
        }
    }
    return {fmt::format("line {}: no closed line: the longest begins at {} and ends at {}, {:.4g} away", line,
                        at(ends.place(from)), at(ends.place(to)), glm::length(ends.place(to) - ends.place(from))),
            allowed};
}

} // namespace

std::variant<OutermostLine, DrawingFault> outermost_line(const Drawing& drawing, double meet) {
    std::vector<Loop> loops;
    std::vector<const PlanLine*> open;
    for (const PlanLine& line : drawing.lines) {
        if (line.closed) {
            loops.push_back({line.places, line.line});
        } else {
            open.push_back(&line);
        }
    }
    Ends ends(open, meet);
    const std::vector<Ends::Chain> chains = ends.chains();
    OutermostLine result;
    for (const Ends::Chain& chain : chains) {
        if (chain.closed) {
            loops.push_back(joined(chain, open));
        } else {
            ++result.open;
        }
    }
    for (Loop& loop : loops) {
        drop_repeats(loop.places);
    }
    // Two lines on top of each other enclose nothing.
    const std::size_t all = loops.size();
    std::erase_if(loops, [&](const Loop& loop) {
        const Extent extent(loop.places);
        const double around = extent.high.x - extent.low.x + extent.high.y - extent.low.y;
        return loop.places.size() < 3 || std::abs(twice_area(loop.places)) <= meet * around;
    });
    result.open += all - loops.size();
    if (loops.empty()) {
        if (chains.empty() || drawing.lines.empty()) {
            return all > 0 ? DrawingFault{"its closed lines enclose no area", "draw the deck's outline"}
                           : nothing_drawn(drawing);
        }
        return nothing_closed(chains, ends, open, meet);
    }
    if (loops.size() > kMostLoops) {
        return DrawingFault{fmt::format("holds {} closed lines", loops.size()),
                            fmt::format("leave the deck's outline in it alone; up to {} are looked at", kMostLoops)};
    }
    const auto outer = std::max_element(loops.begin(), loops.end(), [](const Loop& a, const Loop& b) {
        return std::abs(twice_area(a.places)) < std::abs(twice_area(b.places));
    });
    for (const Loop& loop : loops) {
        constexpr std::size_t kLooks = 8;
        for (std::size_t look = 0; &loop != &*outer && look < kLooks; ++look) {
            if (!covers(outer->places, loop.places[look * loop.places.size() / kLooks], meet)) {
                return DrawingFault{fmt::format("holds closed lines beside each other: {} (line {}) and {} (line {})",
                                                Extent(outer->places).size(), outer->line, Extent(loop.places).size(),
                                                loop.line),
                                    "leave the deck's outline in it; only what lies inside it may stay"};
            }
        }
    }
    if (outer->places.size() <= kMostForCrossings) {
        if (const auto crossed = crossing(outer->places)) {
            return DrawingFault{fmt::format("line {}: the outline crosses itself at {}", outer->line, at(*crossed)),
                                "draw it once round the deck"};
        }
    }
    if (twice_area(outer->places) < 0) {
        std::reverse(outer->places.begin(), outer->places.end());
    }
    result.places = outer->places;
    result.line = outer->line;
    result.inside = loops.size() - 1;
    return result;
}

} // namespace evenclose
