// What the window's state makes of files that changed on the disk.
#include "viewer/app/apply.hpp"

#include "tests/viewer/app/small_press.hpp"
#include "viewer/app/edited_documents.hpp"

#include <doctest/doctest.h>

using namespace evenclose;

namespace fs = std::filesystem;

namespace {

const fs::path kMold{"/shop/box.mold.json"};
const fs::path kMesh{"/shop/lower.stl"};

SharedText text(const std::string& words) { return std::make_shared<const std::string>(words); }

const std::string kRead = "{ \"name\": \"read\" }";

/// Said so, since std::apply takes any variant.
std::vector<Order> want(App& app, const Intent& intent) { return evenclose::apply(app, intent); }

App checked_app() {
    App app;
    want(app, OpenSetup{"/shop/box.set-up.json"});
    apply(app,
          SetupRead{
              app.generation, std::make_shared<const Setup>(), test::small_press(), {}, {}, {{kMold, text(kRead)}}});
    want(app, Checked{app.generation, test::small_results()});
    return app;
}

std::vector<Order> changed(App& app, const fs::path& file, const SharedText& now = nullptr) {
    return want(app, EditIntent{FilesChanged{{{file, file == kMold, now}}}});
}

void edit_mold(App& app, const std::string& name = "mine") {
    want(app, EditIntent{EditDocuments{{{kMold, DocumentEdit::What::set, "name", "\"" + name + "\""}}, ""}});
    apply(app,
          SetupRead{app.generation, std::make_shared<const Setup>(), test::small_press(), {}, {}, app.documents.texts});
    want(app, Checked{app.generation, test::small_results()});
    REQUIRE(app.documents.unsaved());
}

} // namespace

TEST_CASE("a mesh or document that changed is read again from the disk, the press staying on screen") {
    App app = checked_app();
    const Camera camera = app.camera;
    for (const auto& orders : {changed(app, kMesh), changed(app, kMold, text("{ \"name\": \"theirs\" }"))}) {
        REQUIRE(orders.size() == 1);
        CHECK(std::get<StartJob>(orders[0]).texts.empty()); // nothing stands in for the disk
        CHECK(app.stage == Stage::reading);
        CHECK(app.assembly);
    }
    want(app, SetupRead{app.generation,
                        std::make_shared<const Setup>(),
                        test::small_press(),
                        {},
                        {},
                        {{kMold, text("{ \"name\": \"theirs\" }")}}});
    CHECK(app.notice == "Changed on the disk and read again: box.mold.json");
    CHECK(!app.notice_bad);
    CHECK(app.stage == Stage::checking);
    CHECK(!app.documents.unsaved());
    CHECK(*app.documents.texts.at(kMold) == "{ \"name\": \"theirs\" }");
    CHECK(app.camera.eye_mm == camera.eye_mm);
    CHECK(changed(app, kMold, text("{ \"name\": \"theirs\" }")).empty()); // known by now
    App empty;
    CHECK(changed(empty, kMesh).empty());
}

TEST_CASE("what is not whole yet leaves the last good press and its verdict, and says so quietly") {
    App app = checked_app();
    changed(app, kMesh);
    apply(app,
          SetupFaulty{app.generation, {"lower.stl: ends in the middle of triangle 7"}, {}, {{kMold, text("{ \"na")}}});
    CHECK(app.stage == Stage::checked);
    CHECK(app.results);
    CHECK(app.verdict() == Verdict::no_go);
    CHECK(app.not_whole == "lower.stl: ends in the middle of triangle 7");
    CHECK(*app.documents.texts.at(kMold) == kRead); // half a text is not taken up
    CHECK(!app.documents.unsaved());
    // Even the old text, put back, is news then.
    const auto orders = changed(app, kMold, text(kRead));
    REQUIRE(orders.size() == 1);
    apply(app,
          SetupRead{
              app.generation, std::make_shared<const Setup>(), test::small_press(), {}, {}, {{kMold, text(kRead)}}});
    CHECK(app.not_whole.empty());
    // A fault that is there when it is opened is no matter of waiting.
    App fresh;
    want(fresh, OpenSetup{"/shop/box.set-up.json"});
    want(fresh, SetupFaulty{fresh.generation, {"no"}, {}, {}});
    CHECK(fresh.stage == Stage::faulty);
    CHECK(fresh.not_whole.empty());
}

TEST_CASE("an edit while a change is being read loses neither") {
    App app = checked_app();
    changed(app, kMesh);
    const auto orders =
        want(app, EditIntent{EditDocuments{{{kMold, DocumentEdit::What::set, "name", "\"mine\""}}, ""}});
    REQUIRE(orders.size() == 1);
    const auto& job = std::get<StartJob>(orders[0]);
    CHECK(job.texts.size() == 1); // the edited one alone stands in for its file
    CHECK(job.texts.at(kMold)->find("mine") != std::string::npos);
    CHECK(app.taking_up == "lower.stl");
}

TEST_CASE("a document that is edited here and changed there is overwritten neither way before somebody says so") {
    const SharedText theirs = text("{ \"name\": \"theirs\" }");
    App app = checked_app();
    edit_mold(app);
    const SharedText mine = app.documents.texts.at(kMold);
    CHECK(changed(app, kMold, theirs).empty());
    CHECK(app.conflicts.size() == 1);
    CHECK(app.documents.texts.at(kMold) == mine);
    CHECK(app.stage == Stage::checked);
    // A mesh that changes beside it is taken up all the same, the edit standing in for its file.
    const auto beside = changed(app, kMesh);
    REQUIRE(beside.size() == 1);
    CHECK(std::get<StartJob>(beside[0]).texts.at(kMold) == mine);
    want(app, Checked{app.generation, test::small_results()});

    App keep = app;
    CHECK(want(keep, EditIntent{AnswerConflict{kMold, false}}).empty());
    CHECK(keep.conflicts.empty());
    CHECK(keep.documents.texts.at(kMold) == mine);
    CHECK(keep.documents.unsaved());
    CHECK(*keep.documents.saved.at(kMold) == *theirs); // so that saving need not ask again

    REQUIRE(want(app, EditIntent{AnswerConflict{kMold, true}}).size() == 1);
    CHECK(app.conflicts.empty());
    CHECK(!app.documents.unsaved());
    CHECK(*app.documents.texts.at(kMold) == *theirs);
    want(app, EditIntent{Undo{}});
    CHECK(app.documents.texts.at(kMold) == mine); // nothing is lost
    CHECK(app.documents.unsaved());
    CHECK(want(app, EditIntent{AnswerConflict{kMold, true}}).empty()); // an answer to no question
}

TEST_CASE("the same text written there, and a document that went, are no cause to ask whose it is") {
    App app = checked_app();
    edit_mold(app);
    const SharedText mine = app.documents.texts.at(kMold);
    CHECK(changed(app, kMold, text(*mine)).empty());
    CHECK(app.conflicts.empty());
    CHECK(!app.documents.unsaved());
    edit_mold(app, "mine too");
    changed(app, kMold, nullptr);
    CHECK(app.conflicts.contains(kMold));
    want(app, EditIntent{AnswerConflict{kMold, true}});
    CHECK(app.documents.unsaved()); // there is nothing to take
    CHECK(app.documents.texts.at(kMold)->find("mine too") != std::string::npos);
}

TEST_CASE("another window that has the document open is told before saving, once") {
    App app = checked_app();
    edit_mold(app);
    auto orders = want(app, EditIntent{Save{}});
    REQUIRE(orders.size() == 1);
    CHECK(!std::get<WriteDocuments>(orders[0]).beside_others);
    want(app, EditIntent{Saved{{}, {}, {}, {kMold}}});
    CHECK(app.sheet == Sheet::shared);
    CHECK(app.documents.unsaved());
    orders = want(app, EditIntent{Save{false, true}});
    CHECK(std::get<WriteDocuments>(orders[0]).beside_others);
    want(app, EditIntent{Saved{{{kMold, app.documents.texts.at(kMold)}}, {}, {}, {}}});
    CHECK(!app.documents.unsaved());
    edit_mold(app, "once more");
    orders = want(app, EditIntent{Save{}});
    CHECK(std::get<WriteDocuments>(orders[0]).beside_others);
}
