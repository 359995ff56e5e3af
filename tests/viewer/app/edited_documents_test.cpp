#include "viewer/app/edited_documents.hpp"

#include "viewer/app/save_documents.hpp"

#include "scene/documents/document_text.hpp"
#include "tests/scene/documents/temporary_folder.hpp"

#include <doctest/doctest.h>

#include <fstream>
#include <random>

using namespace evenclose;
using namespace evenclose::test;

namespace fs = std::filesystem;

namespace {

using What = DocumentEdit::What;

SharedText shared(std::string text) { return std::make_shared<const std::string>(std::move(text)); }

const fs::path kPress{"/shop/box.press.json"};

EditedDocuments press_documents() {
    EditedDocuments documents;
    documents.setup = "/shop/box.set-up.json";
    take_up(documents,
            {{kPress, shared("{\n  // ours\n  \"jacks\": [\n    { \"name\": \"left jack\", \"stroke\": 150 },\n"
                             "    { \"name\": \"right jack\", \"stroke\": 150 }\n  ]\n}\n")}});
    return documents;
}

const std::string& text_of(const EditedDocuments& documents) { return *documents.texts.at(kPress); }

/// Edits one value, under its own label.
std::optional<std::string> set(EditedDocuments& documents, const std::string& place, const std::string& json) {
    const DocumentEdit one{kPress, What::set, place, json};
    return edit(documents, {one}, label_of(documents, one));
}

} // namespace

TEST_CASE("an edit is a step that is undone byte for byte and done again") {
    EditedDocuments documents = press_documents();
    const std::string start = text_of(documents);
    CHECK(!documents.unsaved());
    CHECK(!undo(documents));
    CHECK(!redo(documents));

    CHECK(!set(documents, "jacks[0].stroke", "180"));
    CHECK(documents.done.back().label == "stroke of left jack: 150 to 180");
    CHECK(documents.unsaved());
    CHECK(documents.unsaved(kPress));
    const std::string first = text_of(documents);
    CHECK(!set(documents, "jacks[1].stroke", "\"7 in\""));
    CHECK(documents.done.back().label == "stroke of right jack: 150 to 7 in");
    const std::string second = text_of(documents);

    CHECK(undo(documents));
    CHECK(text_of(documents) == first);
    CHECK(undo(documents));
    CHECK(text_of(documents) == start);
    CHECK(!documents.unsaved());
    CHECK(!undo(documents));
    CHECK(redo(documents));
    CHECK(redo(documents));
    CHECK(text_of(documents) == second);
    CHECK(!redo(documents));

    // A new edit after an undo: what was undone cannot come back.
    CHECK(undo(documents));
    CHECK(!set(documents, "jacks[1].stroke", "160"));
    CHECK(documents.undone.empty());
    // What changes nothing is no step.
    const std::size_t steps = documents.done.size();
    CHECK(!set(documents, "jacks[1].stroke", "160"));
    CHECK(documents.done.size() == steps);
}

TEST_CASE("several edits are one step, all or none") {
    EditedDocuments documents = press_documents();
    const std::string start = text_of(documents);
    const auto fault =
        edit(documents, {{kPress, What::set, "jacks[0].stroke", "1"}, {kPress, What::remove, "jacks[7]", ""}}, "both");
    CHECK(fault == "box.press.json: jacks[7]: there is no such place");
    CHECK(text_of(documents) == start);
    CHECK(documents.done.empty());
    CHECK(!edit(documents, {{kPress, What::set, "jacks[0].stroke", "1"}, {kPress, What::remove, "jacks[1]", ""}},
                "both"));
    CHECK(documents.done.size() == 1);
    CHECK(text_of(documents) ==
          "{\n  // ours\n  \"jacks\": [\n    { \"name\": \"left jack\", \"stroke\": 1 }\n  ]\n}\n");
    CHECK(undo(documents));
    CHECK(text_of(documents) == start);
    CHECK(edit(documents, {{"/nowhere.json", What::set, "a", "1"}}, "x") == "/nowhere.json: is not open here");
}

TEST_CASE("an object or a list that is not there is made around what is set in it") {
    EditedDocuments documents = press_documents();
    CHECK(!set(documents, "limits.running_clearance", "4"));
    CHECK(text_of(documents).find("  ],\n  \"limits\": { \"running_clearance\": 4 }\n}") != std::string::npos);
    CHECK(!edit(documents, {{kPress, What::add, "guides", "{ \"name\": \"g\" }"}}, "a guide"));
    CHECK(text_of(documents).find("\"guides\": [ { \"name\": \"g\" } ]") != std::string::npos);
}

TEST_CASE("labels are in the trade's words") {
    const EditedDocuments documents = press_documents();
    const std::string text = R"({ "head": { "size": [1, 2] }, "jacks": [ { "name": "left jack", "foot": [1, 2, 3] } ],
        "stack": { "plies": [ { "thickness": 1.5 } ] } })";
    CHECK(words_of_place(text, "head.size[1]") == "size 2 of head");
    CHECK(words_of_place(text, "jacks[0].foot[2]") == "foot 3 of left jack");
    CHECK(words_of_place(text, "jacks[0]") == "left jack");
    CHECK(words_of_place(text, "stack.plies[0].thickness") == "thickness of stack");
    CHECK(words_of_place(text, "closing_force") == "closing force");
    CHECK(words_of_place(text, "jacks") == "jacks");
    CHECK(label_of(documents, {kPress, What::remove, "jacks[1]", ""}) == "right jack removed");
    CHECK(label_of(documents, {kPress, What::add, "jacks", "{}"}) == "one more in jacks");
    CHECK(label_of(documents, {kPress, What::set, "jacks[1].parked", "10"}) == "parked of right jack: 10");
}

TEST_CASE("what changed on the disk is taken up where nothing was edited, and what was edited stays") {
    EditedDocuments documents = press_documents();
    const fs::path mold{"/shop/box.mold.json"};
    take_up(documents, {{mold, shared("{ \"a\": 1 }")}});
    CHECK(!set(documents, "jacks[0].stroke", "180"));
    const std::string edited = text_of(documents);
    take_up(documents, {{kPress, shared("{ \"other\": 1 }")}, {mold, shared("{ \"a\": 2 }")}});
    CHECK(text_of(documents) == edited);
    CHECK(*documents.texts.at(mold) == "{ \"a\": 2 }");
    CHECK(documents.unsaved_texts().size() == 1);
    CHECK(documents.done.size() == 1); // the mold has no steps

    // Saved, then written by somebody else: it follows the disk, and the old step would undo the other's work.
    note_saved(documents, documents.unsaved_texts());
    CHECK(!documents.unsaved());
    take_up(documents, {{kPress, shared("{ \"other\": 1 }")}});
    CHECK(text_of(documents) == "{ \"other\": 1 }");
    CHECK(documents.done.empty());
    CHECK(!undo(documents));
}

TEST_CASE("saving writes what was edited and nothing over another's work") {
    const TemporaryFolder folder;
    const fs::path a = document_id(folder.write("a.press.json", "{ \"a\": 1 }"));
    const fs::path b = document_id(folder.write("b.mold.json", "{ \"b\": 1 }"));
    EditedDocuments documents;
    take_up(documents, {{a, shared("{ \"a\": 1 }")}, {b, shared("{ \"b\": 1 }")}});
    CHECK(!edit(documents, {{a, What::set, "a", "2"}}, "a"));
    SaveOutcome outcome = save_documents(documents, false);
    CHECK(outcome.written.size() == 1);
    CHECK(outcome.faults.empty());
    note_saved(documents, outcome.written);
    CHECK(bytes_of(a) == "{ \"a\": 2 }");
    CHECK(bytes_of(b) == "{ \"b\": 1 }");
    CHECK(!documents.unsaved());
    CHECK(save_documents(documents, false).written.empty());

    CHECK(!edit(documents, {{a, What::set, "a", "3"}, {b, What::set, "b", "2"}}, "both"));
    folder.write("a.press.json", "{ \"a\": \"another's\" }");
    CHECK(changed_on_disk(documents) == std::vector<fs::path>{a});
    outcome = save_documents(documents, false);
    CHECK(outcome.changed_on_disk == std::vector<fs::path>{a});
    CHECK(outcome.written.size() == 1);
    CHECK(bytes_of(a) == "{ \"a\": \"another's\" }");
    CHECK(bytes_of(b) == "{ \"b\": 2 }");
    note_saved(documents, outcome.written);
    outcome = save_documents(documents, true);
    CHECK(outcome.written.contains(a));
    CHECK(bytes_of(a) == "{ \"a\": 3 }");

    // A folder in the file's place: told, and it stays unsaved.
    CHECK(!edit(documents, {{b, What::set, "b", "5"}}, "b"));
    note_saved(documents, {{a, documents.texts[a]}});
    fs::remove(b);
    fs::create_directory(b);
    outcome = save_documents(documents, true);
    CHECK(outcome.written.empty());
    CHECK(outcome.faults.size() == 1);
}

TEST_CASE("the version before a saving is kept beside it, where it cannot be, nothing is written over") {
    const TemporaryFolder folder;
    const fs::path a = document_id(folder.write("a.press.json", "{ \"a\": 1 }"));
    CHECK(last_version_of(a).filename() == "a.press.json~");
    EditedDocuments documents;
    take_up(documents, {{a, shared("{ \"a\": 1 }")}});
    const auto save = [&](const char* value) {
        CHECK(!edit(documents, {{a, What::set, "a", value}}, "a"));
        SaveOutcome outcome = save_documents(documents, true);
        note_saved(documents, outcome.written);
        return outcome.faults;
    };
    CHECK(save("2").empty());
    CHECK(bytes_of(last_version_of(a)) == "{ \"a\": 1 }");
    CHECK(save("3").empty());
    CHECK(bytes_of(last_version_of(a)) == "{ \"a\": 2 }");
    folder.write("a.press.json", "{ \"a\": \"another's\" }"); // kept too, though it was never read
    CHECK(save("4").empty());
    CHECK(bytes_of(last_version_of(a)) == "{ \"a\": \"another's\" }");
    CHECK(bytes_of(a) == "{ \"a\": 4 }");
    fs::remove(last_version_of(a));
    fs::create_directory(last_version_of(a));
    const auto faults = save("5");
    REQUIRE(faults.size() == 1);
    CHECK(faults[0].find("a.press.json~: is a folder or device") != std::string::npos);
    CHECK(bytes_of(a) == "{ \"a\": 4 }");
    CHECK(documents.unsaved());
    // A name without room for one more letter.
    const fs::path longest = document_id(folder.write(std::string(250, 'x') + ".json", "{ \"a\": 1 }"));
    EditedDocuments other;
    take_up(other, {{longest, shared("{ \"a\": 1 }")}});
    CHECK(!edit(other, {{longest, What::set, "a", "2"}}, "a"));
    CHECK(save_documents(other, false).faults.empty());
    CHECK(bytes_of(longest) == "{ \"a\": 2 }");
}

TEST_CASE("saved under another name, the edited parts go along, all paths lead where they led") {
    const TemporaryFolder folder;
    const auto press =
        folder.write("parts/oak.press.json", "{ \"members\": [ { \"section\": { \"mesh\": \"stl/b.stl\" } } ] }");
    const auto mold = folder.write("molds/dune.mold.json", "{ \"lower\": { \"mesh\": \"../stl/l.stl\" } }");
    const auto setup =
        folder.write("oak.set-up.json", "{ // ours\n  \"press\": \"parts/oak.press.json\",\n  \"openings\": "
                                        "[ { \"mold\": \"molds/dune.mold.json\" } ]\n}");
    EditedDocuments documents;
    documents.setup = document_id(setup);
    take_up(documents, gathered_texts(setup, {}));
    REQUIRE(documents.texts.size() == 3);
    CHECK(!edit(documents, {{document_id(press), What::set, "name", "\"new\""}}, "name"));
    fs::create_directory(folder.path() / "jobs");
    const auto outcome = save_as(documents, folder.path() / "jobs" / "june.set-up.json");
    REQUIRE(std::holds_alternative<EditedDocuments>(outcome));
    const auto& fresh = std::get<EditedDocuments>(outcome);
    CHECK(!fresh.unsaved());
    CHECK(bytes_of(folder.path() / "jobs/june.set-up.json") ==
          "{ // ours\n  \"press\": \"june.press.json\",\n  \"openings\": [ { \"mold\": \"../molds/dune.mold.json\" } "
          "]\n}");
    CHECK(bytes_of(folder.path() / "jobs/june.press.json") ==
          "{ \"members\": [ { \"section\": { \"mesh\": \"../parts/stl/b.stl\" } } ], \"name\": \"new\" }");
    CHECK(bytes_of(press).find("new") == std::string::npos); // what was opened stays
    CHECK(!fs::exists(folder.path() / "jobs/june.mold.json"));
    // All of it anew: then nothing is shared.
    const auto whole = save_as(documents, folder.path() / "jobs" / "july.set-up.json", true);
    REQUIRE(std::holds_alternative<EditedDocuments>(whole));
    CHECK(std::get<EditedDocuments>(whole).texts.size() == 3);
    CHECK(bytes_of(folder.path() / "jobs/july.set-up.json").find("\"press\": \"july.press.json\"") !=
          std::string::npos);
    CHECK(bytes_of(folder.path() / "jobs/july.set-up.json").find("\"mold\": \"july.mold.json\"") != std::string::npos);
    CHECK(bytes_of(folder.path() / "jobs/july.mold.json") == "{ \"lower\": { \"mesh\": \"../stl/l.stl\" } }");
    CHECK(bytes_of(mold) == "{ \"lower\": { \"mesh\": \"../stl/l.stl\" } }");
    // In the same folder, and the press under a name that is free.
    const auto again = save_as(documents, folder.path() / "oak.set-up.json");
    REQUIRE(std::holds_alternative<EditedDocuments>(again));
    CHECK(bytes_of(setup).find("\"press\": \"oak.press.json\"") != std::string::npos);
    CHECK(std::holds_alternative<std::vector<std::string>>(save_as(documents, folder.path() / "none" / "x.json")));
}

TEST_CASE("any series of edits, undone wholly, gives every document back byte for byte") {
    std::mt19937 random(20'241'130);
    for (int series = 0; series < 40; ++series) {
        EditedDocuments documents = press_documents();
        const std::string start = text_of(documents);
        std::vector<std::string> states{start};
        for (int step = 0; step < 20; ++step) {
            const std::size_t before = documents.done.size();
            const std::string number = std::to_string(random() % 1000);
            switch (random() % 4) {
            case 0:
                static_cast<void>(set(documents, "jacks[0].stroke", number));
                break;
            case 1:
                static_cast<void>(set(documents, "limits.x" + number, number));
                break;
            case 2:
                static_cast<void>(
                    edit(documents, {{kPress, What::add, "jacks", "{ \"stroke\": " + number + " }"}}, "add"));
                break;
            default:
                static_cast<void>(edit(documents, {{kPress, What::remove, "jacks[0]", ""}}, "remove"));
            }
            if (documents.done.size() > before) {
                states.push_back(text_of(documents));
            }
        }
        for (std::size_t i = states.size() - 1; i-- > 0;) {
            REQUIRE(undo(documents));
            REQUIRE(text_of(documents) == states[i]);
        }
        CHECK(!undo(documents));
        for (std::size_t i = 1; i < states.size(); ++i) {
            REQUIRE(redo(documents));
            REQUIRE(text_of(documents) == states[i]);
        }
    }
}
