// Which file is meant: in the desktop's dialog or on a sheet of ours.
#include "tests/scene/documents/temporary_folder.hpp"
#include "viewer/app/apply.hpp"
#include "viewer/app/settings.hpp"
#include "viewer/ui/asked_files.hpp"

#include <doctest/doctest.h>

#include <fstream>

using namespace evenclose;
using namespace evenclose::test;
using What = FileDialogAnswer::What;

namespace {

std::vector<Order> ask(App& app, FileQuestion question) {
    return evenclose::apply(app, FileQuestionIntent{AskForFile{question}});
}
std::vector<Order> answer(App& app, std::uint64_t number, What what, const std::filesystem::path& file = {}) {
    return evenclose::apply(app, FileQuestionIntent{DialogAnswered{number, {what, file}}});
}

App offered() {
    App app;
    app.asking.offered = true;
    return app;
}

} // namespace

TEST_CASE("file question: on our sheets where the desktop has no dialogs, or they are not wished") {
    App app;
    CHECK(ask(app, FileQuestion::open).empty());
    CHECK(app.sheet == Sheet::open);
    CHECK(ask(app, FileQuestion::save_as).empty());
    CHECK(app.sheet == Sheet::save_as);
    CHECK(ask(app, FileQuestion::report).empty());
    CHECK(app.sheet == Sheet::report);
    App other = offered();
    other.session.settings.desktop_dialogs = false;
    CHECK(ask(other, FileQuestion::open).empty());
    CHECK(other.sheet == Sheet::open);
    App third = offered();
    CHECK(evenclose::apply(third, FileQuestionIntent{AskForFile{FileQuestion::open, true}}).empty());
    CHECK(third.sheet == Sheet::open);
}

TEST_CASE("file question: the dialog's answer is taken once, and only by who waits for it") {
    App app = offered();
    auto orders = ask(app, FileQuestion::open);
    REQUIRE(orders.size() == 1);
    const auto asked = std::get<AskDesktop>(orders.front());
    CHECK(app.sheet == Sheet::asking);
    CHECK(app.typing()); // what is typed meanwhile is for the field that may come
    orders = answer(app, asked.number, What::chosen, "/tmp/oak.set-up.json");
    REQUIRE(orders.size() == 1);
    CHECK(std::get<TakeFile>(orders.front()).file == "/tmp/oak.set-up.json");
    CHECK(app.sheet == Sheet::none);
    CHECK(answer(app, asked.number, What::chosen, "/tmp/oak.set-up.json").empty());

    const auto first = std::get<AskDesktop>(ask(app, FileQuestion::open).front());
    const auto second = std::get<AskDesktop>(ask(app, FileQuestion::save_as).front());
    CHECK(first.number != second.number);
    CHECK(answer(app, first.number, What::chosen, "/tmp/a").empty()); // of the question before
    CHECK(app.sheet == Sheet::asking);
    CHECK(answer(app, second.number, What::cancelled).empty());
    CHECK(app.sheet == Sheet::none);

    ask(app, FileQuestion::open);
    evenclose::apply(app, ShowSheet{Sheet::none}); // taken back
    CHECK(answer(app, app.asking.number, What::chosen, "/tmp/a").empty());
}

TEST_CASE("file question: a desktop that does not answer is not asked again") {
    App app = offered();
    const auto asked = std::get<AskDesktop>(ask(app, FileQuestion::report).front());
    CHECK(answer(app, asked.number, What::not_offered).empty());
    CHECK(app.sheet == Sheet::report);
    evenclose::apply(app, ShowSheet{Sheet::none});
    CHECK(ask(app, FileQuestion::open).empty());
    CHECK(app.sheet == Sheet::open);
    App other = offered();
    const auto elsewhere = std::get<AskDesktop>(ask(other, FileQuestion::open).front());
    CHECK(answer(other, elsewhere.number, What::unusable).empty());
    CHECK(other.sheet == Sheet::none);
    CHECK(other.notice_bad);
}

TEST_CASE("file question: another set-up is asked for in the same way as the first") {
    App app = offered();
    evenclose::apply(app, OpenSetup{"/tmp/oak.set-up.json"});
    CHECK(ask(app, FileQuestion::open).size() == 1);
    CHECK(app.sheet == Sheet::asking);
}

TEST_CASE("file question: what is wished is kept") {
    const TemporaryFolder folder;
    App app = offered();
    const auto orders = evenclose::apply(app, FileQuestionIntent{WishDialogs{false}});
    REQUIRE(orders.size() == 1);
    keep_settings(folder.path(), std::get<KeepSettings>(orders.front()).settings);
    CHECK_FALSE(read_settings(folder.path()).desktop_dialogs);
    evenclose::apply(app, FileQuestionIntent{WishDialogs{true}});
    keep_settings(folder.path(), app.session.settings);
    CHECK(read_settings(folder.path()).desktop_dialogs);
}

TEST_CASE("file question: a chosen name gets its ending, and then asks before it is written over") {
    const TemporaryFolder folder;
    App app;
    app.documents.setup = folder.path() / "oak.set-up.json";
    auto means = intents_of_answer(app, FileQuestion::report, folder.path() / "ash");
    REQUIRE(means.size() == 1);
    CHECK(std::get<MakeReport>(means.front()).file == (folder.path() / "ash.html").string());
    std::ofstream(folder.path() / "ash.html") << "there";
    means = intents_of_answer(app, FileQuestion::report, folder.path() / "ash");
    REQUIRE(means.size() == 1);
    const auto again = std::get<AskForFile>(std::get<FileQuestionIntent>(means.front()));
    CHECK(again.on_sheet);
    CHECK(again.proposed == folder.path() / "ash.html");
    evenclose::apply(app, means.front());
    CHECK(app.sheet == Sheet::report);
    CHECK(asked_for_report(app).proposed == folder.path() / "ash.html");
    // The whole name was chosen in the dialog, which asks by itself.
    means = intents_of_answer(app, FileQuestion::report, folder.path() / "ash.html");
    CHECK(std::holds_alternative<MakeReport>(means.front()));
    means = intents_of_answer(app, FileQuestion::save_as, folder.path() / "elm");
    CHECK(std::get<SaveAs>(std::get<EditIntent>(means.front())).file == (folder.path() / "elm.set-up.json").string());
    means = intents_of_answer(app, FileQuestion::open, folder.path() / "elm.set-up.json");
    CHECK(std::get<OpenSetup>(means.front()).file == (folder.path() / "elm.set-up.json").string());
}

TEST_CASE("file question: the dialog begins in the set-up's folder with the name that our sheet would propose") {
    App app;
    app.file = "/shop/oak.set-up.json";
    app.documents.setup = "/shop/oak.set-up.json";
    CHECK(dialog_for(app, FileQuestion::open).folder == "/shop");
    CHECK_FALSE(dialog_for(app, FileQuestion::open).save);
    CHECK(dialog_for(app, FileQuestion::save_as).name == "oak.set-up.json");
    CHECK(dialog_for(app, FileQuestion::report).name == "oak.html");
    CHECK(dialog_for(app, FileQuestion::report).save);
}

TEST_CASE("notice: what went well goes after a while, what did not stays until it is read") {
    App app;
    app.notice = "Saved: oak.set-up.json";
    evenclose::apply(app, DropNotice{});
    CHECK(app.notice.empty());
    app.notice = "Not saved: the disk is full";
    app.notice_bad = true;
    evenclose::apply(app, DropNotice{});
    CHECK_FALSE(app.notice.empty());
    App writing;
    writing.notice = "Making the report ...";
    writing.writing_report = true;
    evenclose::apply(writing, DropNotice{});
    CHECK_FALSE(writing.notice.empty());
}
