#include "viewer/app/apply.hpp"
#include "viewer/app/dropped_file.hpp"
#include "viewer/app/open_documents.hpp"

#include "tests/scene/documents/temporary_folder.hpp"
#include "tests/viewer/app/small_press.hpp"

#include <doctest/doctest.h>

using namespace evenclose;
using namespace evenclose::test;

namespace fs = std::filesystem;

namespace {

SharedText shared(std::string text) { return std::make_shared<const std::string>(std::move(text)); }

/// Said so, since std::apply takes any variant.
std::vector<Order> want(App& app, const Intent& intent) { return evenclose::apply(app, intent); }

/// A window with documents of three kinds in it, checked.
struct Bench {
    TemporaryFolder folder;
    fs::path press =
        document_id(folder.write("a.press.json", "{ \"evenclose\": \"press\", \"name\": \"P\", \"jacks\": [] }"));
    fs::path mold = document_id(folder.write(
        "a.mold.json",
        "{ \"evenclose\": \"mold\", \"name\": \"M\", \"lower\": { \"block\": [1, 2, 3], \"material\": \"oak\" } }"));
    fs::path other = document_id(folder.write("b.mold.json", "{ \"evenclose\": \"mold\", \"name\": \"B\" }"));
    fs::path setup = document_id(
        folder.write("a.set-up.json", "{ \"evenclose\": \"set-up\", \"name\": \"S\", \"press\": \"a.press.json\", "
                                      "\"openings\": [ { \"mold\": \"a.mold.json\" } ] }"));
    App app;
    Bench() {
        apply(app, OpenSetup{setup.string()});
        read();
        apply(app, Checked{app.generation, small_results()});
    }
    void read() {
        auto value = std::make_shared<Setup>();
        value->openings.push_back({"a.mold.json", std::make_shared<const Mold>(), {}, 0});
        apply(app, SetupRead{app.generation, value, small_press(), {}, {}, gathered_texts(setup, app.documents.texts)});
    }
    void rename(const std::string& name) {
        want(app, EditIntent{EditDocuments{{{press, DocumentEdit::What::set, "name", "\"" + name + "\""}}, {}}});
    }
    [[nodiscard]] const std::string& text(const fs::path& file) const { return *app.documents.texts.at(file); }
};

} // namespace

TEST_CASE("an edit is read and checked anew from memory, the press staying on screen") {
    Bench bench;
    App& app = bench.app;
    REQUIRE(app.documents.texts.size() == 3);
    const auto shown = app.assembly;
    const auto orders =
        want(app, EditIntent{EditDocuments{{{bench.press, DocumentEdit::What::set, "name", "\"Q\""}}, {}}});
    REQUIRE(orders.size() == 1);
    const auto* job = std::get_if<StartJob>(&orders[0]);
    REQUIRE(job);
    CHECK(job->generation == app.generation);
    CHECK(*job->texts.at(bench.press) == bench.text(bench.press));
    CHECK(bench.text(bench.press).find("\"name\": \"Q\"") != std::string::npos);
    CHECK(bytes_of(bench.press).find("\"name\": \"P\"") != std::string::npos);
    CHECK(app.stage == Stage::reading);
    CHECK(app.assembly == shown);
    CHECK(app.documents.unsaved());
    bench.read();
    CHECK(app.stage == Stage::checking);
    CHECK(!app.results);
    CHECK(app.results_before); // what did not change need not be asked again
    CHECK(app.documents.unsaved());

    // A fault: the press stays, what was found for it goes.
    DocumentFault fault;
    fault.file = bench.press.string();
    fault.place = "name";
    bench.rename("");
    apply(app, Checked{app.generation, small_results()});
    apply(app, SetupFaulty{app.generation, {"x"}, {fault}, app.documents.texts});
    CHECK(app.shows_last_good());
    CHECK(!app.results);
    CHECK(app.document_faults.size() == 1);
    want(app, EditIntent{Undo{}});
    CHECK(app.notice.starts_with("Undone: "));
    bench.read();
    CHECK(app.document_faults.empty());
    CHECK(!app.shows_last_good());
}

TEST_CASE("nothing leaves unsaved work without an answer") {
    for (const bool quits : {false, true}) {
        CAPTURE(quits);
        Bench bench;
        App& app = bench.app;
        const Intent leaves = quits ? Intent{Quit{}} : Intent{OpenSetup{"other.json"}};
        bench.rename("Q");
        CHECK(apply(app, leaves).empty());
        CHECK(app.sheet == Sheet::unsaved);
        CHECK(!app.quit);
        CHECK(want(app, EditIntent{LeaveUnsaved{LeaveUnsaved::How::stay}}).empty());
        CHECK(app.sheet == Sheet::none);
        CHECK(app.documents.unsaved());
        // An answer without a question does nothing.
        CHECK(want(app, EditIntent{LeaveUnsaved{LeaveUnsaved::How::discard}}).empty());
        CHECK(app.documents.unsaved());

        apply(app, leaves);
        const auto save = want(app, EditIntent{LeaveUnsaved{LeaveUnsaved::How::save}});
        REQUIRE(save.size() == 1);
        const auto* write = std::get_if<WriteDocuments>(&save[0]);
        REQUIRE(write);
        // It cannot be written: one stays.
        App stuck = app;
        CHECK(want(stuck, EditIntent{Saved{{}, {}, {"disk full"}, {}}}).empty());
        CHECK(!stuck.quit);
        CHECK(stuck.documents.unsaved());
        const auto goes = want(app, EditIntent{Saved{app.documents.unsaved_texts(), {}, {}, {}}});
        REQUIRE(goes.size() == 1);
        CHECK(quits == app.quit);
        CHECK((quits || app.file == "other.json"));

        Bench careless;
        careless.rename("Q");
        apply(careless.app, leaves);
        CHECK(want(careless.app, EditIntent{LeaveUnsaved{LeaveUnsaved::How::discard}}).size() == 1);
        CHECK(careless.app.quit == quits);
    }
}

TEST_CASE("reading again keeps what was edited and takes up all else from the disk") {
    Bench bench;
    bench.rename("Q");
    const auto orders = apply(bench.app, CheckAgain{});
    REQUIRE(orders.size() == 1);
    const DocumentTexts& texts = std::get<StartJob>(orders[0]).texts;
    CHECK(texts.size() == 1);
    CHECK(texts.contains(bench.press));
    CHECK(bench.app.documents.unsaved());
}

TEST_CASE("work that was left behind is taken up unsaved") {
    Bench bench;
    LeftBehind left;
    left.work.setup = bench.setup;
    left.work.texts[bench.press] = shared("{ \"name\": \"kept\" }");
    left.work.saved[bench.press] = shared(bytes_of(bench.press));
    App app;
    want(app, EditIntent{SessionRead{{"r.json"}, {left}}});
    CHECK(app.sheet == Sheet::left_behind);
    CHECK(app.session.recent.size() == 1);
    const auto orders = want(app, EditIntent{TakeUpWork{0}});
    REQUIRE(orders.size() == 2);
    CHECK(*std::get<StartJob>(orders[0]).texts.at(bench.press) == "{ \"name\": \"kept\" }");
    CHECK(std::holds_alternative<ForgetWork>(orders[1]));
    CHECK(app.documents.unsaved(bench.press));
    CHECK(app.session.left_behind.empty());
    CHECK(app.sheet == Sheet::none);
    CHECK(want(app, EditIntent{TakeUpWork{0}}).empty());
}

TEST_CASE("a file that is dropped goes where its kind belongs") {
    Bench bench;
    App& app = bench.app;
    const auto drop = [&](const fs::path& file) {
        for (const Intent& intent : intents_of_drop(app, file.string())) {
            apply(app, intent);
        }
    };
    drop(bench.other);
    CHECK(bench.text(bench.setup).find("{ \"mold\": \"b.mold.json\" }") != std::string::npos);
    REQUIRE(app.compared);
    CHECK(app.compared->file == bench.mold);
    want(app, EditIntent{Undo{}});
    CHECK(!app.documents.unsaved());
    drop(bench.folder.write("parts/Half.STL", "solid"));
    CHECK(app.sheet == Sheet::which_half);
    want(app, EditIntent{MeshForHalf{"lower"}});
    CHECK(app.sheet == Sheet::none);
    // The block goes, the mesh comes, its path from the mold's own folder.
    CHECK(bench.text(bench.mold).find("\"lower\": { \"material\": \"oak\", \"mesh\": \"parts/Half.STL\" }") !=
          std::string::npos);
    want(app, EditIntent{Undo{}});
    drop(bench.folder.write("c.press.json", "{ \"evenclose\": \"press\" }"));
    CHECK(bench.text(bench.setup).find("\"press\": \"c.press.json\"") != std::string::npos);
    want(app, EditIntent{Undo{}});
    CHECK(!app.documents.unsaved());
    const fs::path another = bench.folder.write("d.set-up.json", "{}");
    drop(another);
    CHECK(app.file == another.string());
}

TEST_CASE("a mold that is dragged is an edit where it is let go, in the document's own unit") {
    Bench bench;
    App& app = bench.app;
    CHECK(want(app, EditIntent{MoveMold{0, 12, 3, false}}).empty());
    CHECK(!app.documents.unsaved());
    CHECK(want(app, EditIntent{MoveMold{0, 12.004, -3, true}}).size() == 1);
    CHECK(bench.text(bench.setup).find("\"at\": [12, -3]") != std::string::npos);
    CHECK(app.documents.done.back().label == "mold moved to 12, -3 mm");
    want(app, EditIntent{Undo{}});
    want(app, EditIntent{EditDocuments{{{bench.setup, DocumentEdit::What::set, "unit", "\"in\""}}, {}}});
    want(app, EditIntent{MoveMold{0, 5, 0, true}});
    CHECK(bench.text(bench.setup).find("\"at\": [\"5 mm\", \"0 mm\"]") != std::string::npos);
    CHECK(want(app, EditIntent{MoveMold{0, 0, 0, true}}).empty()); // where it stood: no edit
    CHECK(want(app, EditIntent{MoveMold{7, 5, 0, true}}).empty());
}

TEST_CASE("open documents are told in the shop's order, each once") {
    Bench bench;
    const std::vector<OpenDocument> open = open_documents(bench.app.documents);
    REQUIRE(open.size() == 3);
    CHECK(open[0].name == "S");
    CHECK(open[1].name == "P");
    CHECK(open[2].kind == DocumentKind::mold);
    CHECK(open_documents({}).empty());
}
