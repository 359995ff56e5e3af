#include "scene/documents/nearest_word.hpp"

#include <algorithm>
#include <string>
#include <vector>

namespace evenclose {
namespace {

// No word of ours is half as long; what is longer is no misspelling, and a hostile one would cost time.
constexpr std::size_t kLongestMisspelling = 64;
// "to" begins "toe_radius", but nobody means that by it.
constexpr std::size_t kShortestBeginning = 3;

std::string plain(std::string_view word) {
    std::string result{word};
    for (char& letter : result) {
        if (letter >= 'A' && letter <= 'Z') {
            letter = static_cast<char>(letter - 'A' + 'a');
        } else if (letter == '-' || letter == ' ') {
            letter = '_';
        }
    }
    return result;
}

bool begins_the_other(std::string_view a, std::string_view b) {
    return std::min(a.size(), b.size()) >= kShortestBeginning && (a.starts_with(b) || b.starts_with(a));
}

} // namespace

std::size_t edit_distance(std::string_view a, std::string_view b) {
    // Three rows of the table: distances from the first i-2, i-1 and i letters of a to every beginning of b.
    std::vector<std::size_t> two_before(b.size() + 1);
    std::vector<std::size_t> before(b.size() + 1);
    std::vector<std::size_t> row(b.size() + 1);
    for (std::size_t j = 0; j <= b.size(); ++j) {
        row[j] = j;
    }
    for (std::size_t i = 1; i <= a.size(); ++i) {
        two_before.swap(before);
        before.swap(row);
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t changed = before[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
            row[j] = std::min({before[j] + 1, row[j - 1] + 1, changed});
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) {
                row[j] = std::min(row[j], two_before[j - 2] + 1);
            }
        }
    }
    return row[b.size()];
}

std::string_view nearest_word(std::string_view typed, std::span<const std::string_view> right) {
    if (typed.size() > kLongestMisspelling) {
        return {};
    }
    const std::string meant = plain(typed);
    std::string_view best;
    std::size_t best_distance = 0;
    for (const std::string_view word : right) {
        const std::string candidate = plain(word);
        const std::size_t distance = edit_distance(meant, candidate);
        const std::size_t bearable = std::max<std::size_t>(1, std::min(meant.size(), candidate.size()) / 3);
        const bool near_enough = distance <= bearable || begins_the_other(meant, candidate);
        // A word of two letters that is wrong in one could be anything.
        const bool too_short = std::min(meant.size(), candidate.size()) < 3 && distance > 0;
        if (near_enough && !too_short && (best.empty() || distance < best_distance)) {
            best = word;
            best_distance = distance;
        }
    }
    return best;
}

} // namespace evenclose
