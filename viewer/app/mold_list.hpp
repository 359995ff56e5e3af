// viewer/app/mold_list.hpp: a folder of molds as it is shown: in which order, which are found by what is typed, what their
// cards say, where an arrow key leads. Pure, tested without a screen.
#pragma once

#include "scene/units/units.hpp"
#include "viewer/app/molds.hpp"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace evenclose {

/// Names as a shop sorts them: large and small letters alike, numbers by their value ("deck 9" before "deck 10"); molds
/// of one name by their files.
[[nodiscard]] bool listed_before(const ListedMold& a, const ListedMold& b);

/// Into `molds`, in their order: those that hold every word of `sought` in their name or file. A word that is a verdict
/// ("go", "marginal", "no-go") is also that of a mold about which `verdicts` says so.
[[nodiscard]] std::vector<std::size_t> found_molds(const std::vector<ListedMold>& molds,
                                                   const std::vector<std::optional<Verdict>>& verdicts,
                                                   std::string_view sought);

/// The card that a key leads to from `from`, in rows of `columns`; stays where there is none.
enum class CardStep { left, right, up, down, page_up, page_down, first, last };
[[nodiscard]] std::size_t stepped(std::size_t from, CardStep step, std::size_t count, std::size_t columns,
                                  std::size_t rows_a_page);

/// What a fit says on a card: its verdict in a word, and a sentence with the first telling number; empty where nothing stands
/// in the way.
struct FitWords {
    std::string verdict, sentence;
};
[[nodiscard]] FitWords fit_words(const Fit& fit, UnitSystem units);
/// The first fault, and how many more there are.
[[nodiscard]] std::string fault_words(const std::vector<DocumentFault>& faults);

/// "12 molds: 5 go, 2 marginal, 4 no-go, 1 cannot be read"; `verdicts` of those that the press was asked about.
[[nodiscard]] std::string counted_words(const MoldListing& listing, const std::vector<std::optional<Verdict>>& verdicts,
                                        std::size_t unread, bool listed);

/// How long the rest will take if it goes on as it went; none before the first is done.
[[nodiscard]] std::optional<double> seconds_left(std::size_t done, std::size_t all, double elapsed_s);
/// "about 40 s left", "about 3 min left".
[[nodiscard]] std::string left_words(double seconds);

/// Which of `waiting` (into `molds`) is next: the first that is in sight, else the first. Needs: at least one waits.
[[nodiscard]] std::size_t next_of(const std::vector<ListedMold>& molds, const std::vector<std::size_t>& waiting,
                                  const std::vector<std::filesystem::path>& in_sight);

/// A mold that is being written at this moment stays as it was in `before` until it stands still, and one that is new waits
/// so long. `now_ns` since 1970.
[[nodiscard]] std::vector<ListedMold> at_rest(const std::vector<ListedMold>& before, std::vector<ListedMold> now,
                                              std::int64_t now_ns);
// Most programs write in several goes.
inline constexpr std::int64_t kAtRest_ns = 300'000'000;

} // namespace evenclose
