// The folder of molds as it is shown: order, search, words, steps.
#include "viewer/app/mold_list.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

using namespace evenclose;

namespace {

ListedMold mold(const std::string& name, const std::string& file = "/shop/a.mold.json") { return {file, name, {}}; }

std::vector<std::string> ordered(std::vector<ListedMold> molds) {
    std::sort(molds.begin(), molds.end(), listed_before);
    std::vector<std::string> names;
    for (const ListedMold& one : molds) {
        names.push_back(one.name);
    }
    return names;
}

ListedMold written(const std::string& file, std::int64_t at_ns) {
    return {file, file, {{file, FileStamp{true, 1, 2, 3, at_ns}}}};
}

} // namespace

TEST_CASE("molds stand by name, large and small letters alike, numbers by their value, namesakes by their files") {
    CHECK(ordered({mold("deck 10"), mold("Deck 9"), mold("curlew"), mold("Deck"), mold("deck 9 b"), mold("")}) ==
          std::vector<std::string>{"", "curlew", "Deck", "Deck 9", "deck 9 b", "deck 10"});
    CHECK(listed_before(mold("a", "/shop/1"), mold("A", "/shop/2")));
    CHECK(!listed_before(mold("a", "/shop/2"), mold("A", "/shop/1")));
    CHECK(!listed_before(mold("a"), mold("a")));
    // A number of more digits than any integer holds.
    CHECK(listed_before(mold("n 123456789012345678901234567890"), mold("n 123456789012345678901234567891")));
    CHECK(listed_before(mold("n 007"), mold("n 8")));
}

TEST_CASE("what is typed is sought in names and files, word by word, a verdict finds those that have it") {
    const std::vector<ListedMold> molds{mold("Crescent deck", "/shop/crescent.mold.json"),
                                        mold("Curlew", "/shop/sled.mold.json"), mold("Gondola", "/shop/g.mold.json")};
    const std::vector<std::optional<Verdict>> verdicts{Verdict::no_go, Verdict::go, std::nullopt};
    using Found = std::vector<std::size_t>;
    const auto found = [&](const char* words) { return found_molds(molds, verdicts, words); };
    CHECK(found("") == Found{0, 1, 2});
    CHECK(found("  ") == Found{0, 1, 2});
    CHECK(found("CURLEW") == Found{1});
    CHECK(found("deck cres") == Found{0});
    CHECK(found("sled") == Found{1});
    CHECK(found("deck sled").empty());
    CHECK(found("no-go") == Found{0});
    CHECK(found("go") == Found{1, 2}); // Gondola by its name
    CHECK(found("go curlew") == Found{1});
    CHECK(found("marginal").empty());
    CHECK(found("shop").empty()); // the folder is the same for all
}

TEST_CASE("arrow keys go from card to card and stay within them") {
    using Step = CardStep;
    struct Row {
        std::size_t from;
        Step step;
        std::size_t to;
    };
    // 0 1 2 3 / 4 5 6 7 / 8 9 . . ; two rows a page
    const Row rows[] = {
        {0, Step::left, 0},      {1, Step::left, 0},    {4, Step::left, 3},      {9, Step::right, 9},
        {3, Step::right, 4},     {0, Step::up, 0},      {5, Step::up, 1},        {1, Step::down, 5},
        {5, Step::down, 9},      {6, Step::down, 9},    {9, Step::down, 9},      {8, Step::down, 8},
        {0, Step::page_down, 8}, {9, Step::page_up, 1}, {5, Step::page_up, 1},   {3, Step::page_down, 7},
        {7, Step::first, 0},     {0, Step::last, 9},    {8, Step::page_down, 8}, {2, Step::page_up, 2},
        {99, Step::left, 8},     {99, Step::right, 9},
    };
    for (const Row& row : rows) {
        CAPTURE(row.from);
        CAPTURE(static_cast<int>(row.step));
        CHECK(stepped(row.from, row.step, 10, 4, 2) == row.to);
    }
    for (const Step step :
         {Step::left, Step::right, Step::up, Step::down, Step::page_up, Step::page_down, Step::first, Step::last}) {
        CHECK(stepped(0, step, 0, 4, 2) == 0);
        CHECK(stepped(0, step, 1, 4, 2) == 0);
        CHECK(stepped(5, step, 10, 0, 0) == 0);
        CHECK(stepped(3, step, 10, 1, 0) < 10);
    }
}

TEST_CASE("a card says the verdict with the first telling number, in the reader's units") {
    Fit fit;
    fit.verdict = Verdict::no_go;
    fit.first = Finding{};
    fit.first->title = "The mold with its flat stack is {mm:25.4} too tall for the daylight";
    CHECK(fit_words(fit, UnitSystem::metric).verdict == "no-go");
    CHECK(fit_words(fit, UnitSystem::metric).sentence ==
          "The mold with its flat stack is 25.4 mm too tall for the daylight");
    CHECK(fit_words(fit, UnitSystem::inch).sentence ==
          "The mold with its flat stack is 1 in too tall for the daylight");
    fit = {};
    CHECK(fit_words(fit, UnitSystem::metric).verdict == "go");
    CHECK(fit_words(fit, UnitSystem::metric).sentence.empty());
}

TEST_CASE("what cannot be read is told with its file, its place, and how much more there is") {
    DocumentFault fault;
    fault.file = "/home/shop/molds/a.mold.json";
    fault.place = "lower.block[0]";
    fault.found = "-1";
    fault.problem = "is no length";
    CHECK(fault_words({}).empty());
    CHECK(fault_words({fault}) == "a.mold.json: lower.block[0]: -1 is no length");
    CHECK(fault_words({fault, fault}) == "a.mold.json: lower.block[0]: -1 is no length; and 1 more fault");
    CHECK(fault_words({fault, fault, fault}).ends_with("; and 2 more faults"));
}

TEST_CASE("the molds of a folder are counted by what the press says of them") {
    MoldListing listing;
    CHECK(counted_words(listing, {}, 0, true).empty());
    listing.molds = {mold("a"), mold("b"), mold("c"), mold("d")};
    CHECK(counted_words(listing, {}, 0, false).empty());
    CHECK(counted_words(listing, {{}, {}, {}, {}}, 0, true) == "4 molds");
    CHECK(counted_words(listing, {Verdict::go, Verdict::no_go, Verdict::no_go, {}}, 1, true) ==
          "4 molds: 1 go, 2 no-go, 1 cannot be read");
    CHECK(counted_words(listing, {{}, {}, {}, {}}, 2, true) == "4 molds: 2 cannot be read");
    listing.cut_short = true;
    CHECK(counted_words(listing, {Verdict::marginal, {}, {}, {}}, 0, true) == "the first 4 molds: 1 marginal");
    listing.molds.resize(1);
    listing.cut_short = false;
    CHECK(counted_words(listing, {{}}, 0, true) == "1 mold");
}

TEST_CASE("the time left goes by how long the others took") {
    CHECK(!seconds_left(0, 10, 5.0));
    CHECK(*seconds_left(2, 10, 6.0) == 24.0);
    CHECK(*seconds_left(10, 10, 6.0) == 0.0);
    CHECK(*seconds_left(11, 10, 6.0) == 0.0);
    CHECK(left_words(0.0) == "a few seconds left");
    CHECK(left_words(24.0) == "about 25 s left");
    CHECK(left_words(61.0) == "about 65 s left");
    CHECK(left_words(100.0) == "about 2 min left");
    CHECK(left_words(-3.0) == "a few seconds left");
}

TEST_CASE("the next to be looked at is one in sight, else the first that waits") {
    const std::vector<ListedMold> molds{mold("a", "/1"), mold("b", "/2"), mold("c", "/3")};
    CHECK(next_of(molds, {0, 1, 2}, {}) == 0);
    CHECK(next_of(molds, {0, 1, 2}, {"/3", "/2"}) == 2);
    CHECK(next_of(molds, {0, 1}, {"/3", "/2"}) == 1);
    CHECK(next_of(molds, {1}, {"/3", "/nowhere"}) == 1);
}

TEST_CASE("a mold that is being written stays as it was until it stands still, and a new one waits so long") {
    constexpr std::int64_t now = 5'000'000'000;
    const ListedMold old = written("/a", 1'000'000'000);
    const ListedMold fresh = written("/a", now - kAtRest_ns / 2);
    CHECK(at_rest({old}, {fresh}, now) == std::vector<ListedMold>{old});
    CHECK(at_rest({old}, {fresh}, now + kAtRest_ns) == std::vector<ListedMold>{fresh});
    CHECK(at_rest({}, {fresh}, now).empty());
    CHECK(at_rest({old}, {}, now).empty()); // gone
    // A clock that runs behind the file's would else keep it waiting for ever.
    const ListedMold ahead = written("/a", now + 3'600'000'000'000);
    CHECK(at_rest({old}, {ahead}, now) == std::vector<ListedMold>{ahead});
}
