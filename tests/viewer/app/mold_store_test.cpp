// What is kept of molds: as long as their files stand, and apart for each press.
#include "viewer/app/mold_store.hpp"

#include "viewer/app/press_key.hpp"

#include <doctest/doctest.h>

#include <string>

using namespace evenclose;

namespace {

ListedMold mold(const std::string& file, std::int64_t written_ns) {
    return {file, "M", {{file, FileStamp{true, 1, 2, 3, written_ns}}, {file + ".stl", FileStamp{true, 1, 9, 9, 7}}}};
}

std::shared_ptr<const Fit> fit(Verdict verdict) {
    Fit made;
    made.verdict = verdict;
    return std::make_shared<const Fit>(made);
}

std::shared_ptr<const std::string> text(const std::string& words) { return std::make_shared<const std::string>(words); }

} // namespace

TEST_CASE("what is known of a mold holds for its files as they stood, and for that press") {
    MoldStore store;
    const ListedMold a = mold("/a", 1);
    CHECK(!store.look(a));
    CHECK(!store.fit(a, "press"));
    const auto look = std::make_shared<const MoldLook>();
    store.keep(a, look);
    store.keep(a, "press", fit(Verdict::go));
    store.keep(a, "other", fit(Verdict::no_go));
    CHECK(store.look(a) == look);
    CHECK(store.fit(a, "press")->verdict == Verdict::go);
    CHECK(store.fit(a, "other")->verdict == Verdict::no_go);
    CHECK(!store.fit(a, "third"));
    store.keep(a, "press", fit(Verdict::marginal));
    CHECK(store.fit(a, "press")->verdict == Verdict::marginal);
    // Its mesh was written anew: nothing of it holds, and nothing of it comes back.
    ListedMold drawn_anew = a;
    drawn_anew.stamps["/a.stl"].written_ns = 8;
    CHECK(!store.look(drawn_anew));
    CHECK(!store.fit(drawn_anew, "press"));
    store.keep(drawn_anew, look);
    CHECK(!store.fit(drawn_anew, "press"));
    CHECK(!store.look(a));
    CHECK(store.size() == 1);
}

TEST_CASE("presses that one goes to and fro between are kept, others go, so do molds beyond all measure") {
    MoldStore store;
    const ListedMold a = mold("/a", 1);
    for (int i = 0; i < 6; ++i) {
        store.keep(a, "press " + std::to_string(i), fit(Verdict::go));
    }
    CHECK(!store.fit(a, "press 1"));
    CHECK(store.fit(a, "press 2"));
    CHECK(store.fit(a, "press 5"));
    for (std::size_t i = 0; i < 3 * MoldStore::kMostMolds; ++i) {
        store.keep(mold("/m" + std::to_string(i), 1), std::make_shared<const MoldLook>());
        REQUIRE(store.size() <= MoldStore::kMostMolds);
    }
}

TEST_CASE(
    "a press is the same for a mold whatever its set-up is called and holds, and another one by any of its numbers") {
    const std::string press = R"({ "evenclose": "press", "members": [ { "mesh": "arm.stl" } ], "height": 1 })";
    const auto key = [&](const std::string& setup, const std::string& of_press, std::int64_t arm_ns) {
        const DocumentTexts texts{{document_id("/shop/a.set-up.json"), text(setup)},
                                  {document_id("/shop/a.press.json"), text(of_press)}};
        return press_key("/shop/a.set-up.json", texts,
                         {{"/shop/arm.stl", FileStamp{true, 1, 2, 3, arm_ns}},
                          {"/shop/a.mold.json", FileStamp{true, 1, 2, 3, arm_ns + 5}}});
    };
    const std::string setup = R"({ "name": "S", "press": "a.press.json", "limits": { "running_clearance": 5 },
                                   "openings": [ { "mold": "a.mold.json" } ] })";
    const std::string as_read = key(setup, press, 1);
    CHECK(!as_read.empty());
    const std::string swapped = R"({ "name": "T", "press": "a.press.json", "limits": { "running_clearance": 5 },
        "openings": [ { "mold": "b.mold.json", "at": [9, 9] }, { "mold": "c.mold.json" } ],
        "intermediate_platens": [ { "size": [1, 1], "thickness": 2 } ] })";
    CHECK(key(swapped, press, 1) == as_read);
    std::string other_limit = setup;
    other_limit.replace(other_limit.find(" 5 "), 3, " 6 ");
    CHECK(key(other_limit, press, 1) != as_read);
    std::string higher = press;
    higher.replace(higher.find(": 1 "), 4, ": 2 ");
    CHECK(key(setup, higher, 1) != as_read);
    CHECK(key(setup, press, 2) != as_read); // the arm was drawn anew
    CHECK(key("no document", press, 1).empty());
    CHECK(press_key("/nowhere.json", {}, {}).empty());
}
