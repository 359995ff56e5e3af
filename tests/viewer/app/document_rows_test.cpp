#include "viewer/app/document_rows.hpp"

#include "scene/documents/document_text.hpp"
#include "scene/documents/documents.hpp"
#include "scene/documents/mold_document.hpp"
#include "scene/documents/press_document.hpp"
#include "tests/scene/documents/jacks_sample.hpp"
#include "tests/scene/documents/samples.hpp"
#include "tests/scene/documents/temporary_folder.hpp"
#include "viewer/app/schemas.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <set>

using namespace evenclose;
using namespace evenclose::test;
using nlohmann::json;

namespace {

const std::filesystem::path kFile{"/f.json"};

const DocumentRow* row_at(const std::vector<DocumentRow>& rows, const std::string& place,
                          DocumentRow::Kind kind = DocumentRow::Kind::value) {
    const auto found = std::find_if(rows.begin(), rows.end(),
                                    [&](const DocumentRow& row) { return row.place == place && row.kind == kind; });
    return found == rows.end() ? nullptr : &*found;
}

/// Places of all numbers, texts and truths in the document.
void collect(const json& value, const std::string& place, std::set<std::string>& places) {
    if (value.is_object()) {
        for (const auto& [key, child] : value.items()) {
            collect(child, place_of(place, key), places);
        }
    } else if (value.is_array()) {
        for (std::size_t i = 0; i < value.size(); ++i) {
            collect(value[i], place_of(place, i), places);
        }
    } else {
        places.insert(place);
    }
}

std::string edited(DocumentKind kind, std::string text, const std::string& place, std::size_t part,
                   std::string_view typed) {
    EditedDocuments documents;
    take_up(documents, {{kFile, std::make_shared<const std::string>(text)}});
    const std::vector<DocumentRow> rows = rows_of(kind, text);
    const DocumentRow* row = row_at(rows, place);
    REQUIRE(row != nullptr);
    CHECK(edit(documents, edits_for(*row, part, typed, kFile), "x").value_or("") == "");
    return *documents.texts.at(kFile);
}

} // namespace

TEST_CASE("every value of a document has its field, with the words of its schema") {
    const std::pair<DocumentKind, std::string_view> samples[] = {
        {DocumentKind::press, kPressSample}, {DocumentKind::mold, kMoldSample}, {DocumentKind::press, kJacksSample}};
    for (const auto& [kind, sample] : samples) {
        const std::vector<DocumentRow> rows = rows_of(kind, std::string{sample});
        std::set<std::string> fields;
        for (const DocumentRow& row : rows) {
            CAPTURE(row.place);
            CHECK(!row.label.empty());
            CHECK((row.kind != DocumentRow::Kind::value || !row.description.empty()));
            for (const FieldPart& part : row.parts) {
                CHECK(fields.insert(part.place).second); // each once
            }
        }
        std::set<std::string> there;
        collect(json::parse(sample, nullptr, true, true), "", there);
        for (std::string place : there) {
            if (place == "evenclose" || place == "version") {
                continue;
            }
            CAPTURE(place);
            // Lists of names or readings are one field.
            const bool listed = fields.contains(place) || fields.contains(place.substr(0, place.find_last_of('[')));
            CHECK(listed);
        }
    }
}

TEST_CASE("what a key's description and unit say, and what may be left out") {
    const std::vector<DocumentRow> rows = rows_of(DocumentKind::press, std::string{kPressSample});
    const DocumentRow* stroke = row_at(rows, "jacks[0].stroke");
    REQUIRE(stroke);
    CHECK(stroke->label == "stroke");
    CHECK(stroke->description.starts_with("How far it can rise in all, from the closed height.\nA length above 0"));
    CHECK(stroke->unit == "mm");
    CHECK(stroke->parts[0].typed == "7 in");
    CHECK(!stroke->removable);
    CHECK(row_matches(*stroke, "LEFT stro"));
    CHECK(row_matches(*stroke, "jacks"));
    CHECK(!row_matches(*stroke, "right stroke"));
    CHECK(row_at(rows, "jacks[0].rated_load")->unit == "N");
    CHECK(row_at(rows, "members[0].roll")->unit == "°");
    CHECK(row_at(rows, "jacks[1].parked")->there == false);
    CHECK(row_at(rows, "head.size")->parts.size() == 2);
    CHECK(row_at(rows, "members[0].from")->parts[1].place == "members[0].from[1]");
    CHECK(row_at(rows, "joints[1].how")->choices == std::vector<std::string>{"welded", "bolted", "bearing", "none"});
    CHECK(row_at(rows, "jacks", DocumentRow::Kind::add)->label == "one more jack");
    CHECK(row_at(rows, "members[2]", DocumentRow::Kind::group)->label == "beam");
    CHECK(row_at(rows, "members[2]", DocumentRow::Kind::group)->removable);
    CHECK(!row_at(rows, "head", DocumentRow::Kind::group)->removable);
    CHECK(rows_of(DocumentKind::press, "{ \"unit\": \"in\", \"head\": {} }").at(3).unit.empty());
    CHECK(row_at(rows_of(DocumentKind::press, "{ \"unit\": \"in\", \"head\": {} }"), "head.thickness")->unit == "in");
    CHECK(rows_of(DocumentKind::press, "{ broken").empty());
}

TEST_CASE("what is typed becomes the document's own JSON") {
    using K = ValueKind;
    CHECK(literal_of(K::quantity, " 38 ") == "38");
    CHECK(literal_of(K::quantity, "-2.5e1") == "-2.5e1");
    CHECK(literal_of(K::quantity, "1 1/2\"") == "\"1 1/2\\\"\"");
    CHECK(literal_of(K::quantity, "20 kN") == "\"20 kN\"");
    CHECK(literal_of(K::quantity, ".5") == "\".5\""); // no JSON number, but the reader takes it
    CHECK(literal_of(K::quantity, "true") == "\"true\"");
    CHECK(literal_of(K::text, "38") == "\"38\"");
    CHECK(literal_of(K::truth, "yes") == "true");
    CHECK(literal_of(K::number, "3") == "3");
    CHECK(literal_of(K::texts, "left jack, right jack") == "[\"left jack\", \"right jack\"]");
    CHECK(literal_of(K::quantities, "1, 2 in") == "[1, \"2 in\"]");
    CHECK(literal_of(K::texts, "") == "[]");
}

TEST_CASE("typing into a field edits that value, makes what is missing, takes another form's place") {
    const std::string press{kPressSample};
    const auto holds = [](const std::string& text, const std::string& words) {
        return text.find(words) != std::string::npos;
    };
    CHECK(edited(DocumentKind::press, press, "jacks[1].stroke", 0, "7 1/2 in") ==
          changed(kPressSample, "\"stroke\": 180", "\"stroke\": \"7 1/2 in\""));
    CHECK(holds(edited(DocumentKind::press, press, "head.size", 1, "410"), "\"size\": [900, 410]"));
    CHECK(edited(DocumentKind::press, press, "head.size", 1, "400") == press); // nothing changed
    CHECK(holds(edited(DocumentKind::press, press, "jacks[1].parked", 0, "5"), "\"parked\": 5 }"));
    CHECK(!holds(edited(DocumentKind::press, press, "jacks[0].parked", 0, ""), "\"parked\""));
    CHECK(edited(DocumentKind::press, press, "jacks[0].stroke", 0, "") == press); // must be there
    CHECK(holds(edited(DocumentKind::press, "{ \"head\": { \"underside\": 5 } }", "head.centre", 1, "3"),
                "\"centre\": [0, 3]"));
    CHECK(holds(edited(DocumentKind::press, press, "members[2].section.timber", 0, "60"),
                "\"section\": { \"timber\": [60, 60] }, \"material\": \"S235\""));
    CHECK(holds(edited(DocumentKind::press, press, "members[0].section.rod", 0, "30"), "\"section\": { \"rod\": 30 }"));
}

TEST_CASE("what is added is a whole one of its kind, read by the reader at once") {
    const TemporaryFolder folder;
    folder.write("heights.csv", "travel,left,right\n0,100,100\n10,110,110\n");
    const std::pair<DocumentKind, std::string_view> samples[] = {
        {DocumentKind::press, kPressSample}, {DocumentKind::mold, kMoldSample}, {DocumentKind::press, kJacksSample}};
    int added = 0;
    for (const auto& [kind, sample] : samples) {
        const std::string start{sample};
        for (const DocumentRow& row : rows_of(kind, start)) {
            if (row.kind != DocumentRow::Kind::add || row.place == "measured_heights" || row.place == "drives") {
                continue; // those say how all jacks move, so they do not go with everything else
            }
            CAPTURE(row.place);
            EditedDocuments documents;
            take_up(documents, {{kFile, std::make_shared<const std::string>(start)}});
            REQUIRE(edit(documents, edits_to_add(row, kFile), "x").value_or("") == "");
            const std::filesystem::path file = folder.write("d.json", *documents.texts.at(kFile));
            MeshShelf shelf{BoxImporter{}};
            const std::vector<DocumentFault> faults =
                kind == DocumentKind::press ? read_press(file, shelf).faults : read_mold(file, shelf).faults;
            // Another jack, guide or corner stands where the last one stands: that is told, and moved by hand.
            for (const DocumentFault& fault : faults) {
                CAPTURE(fault.sentence());
                const bool known = fault.problem.find("unknown") == std::string::npos &&
                                   fault.problem.find("no such word") == std::string::npos &&
                                   !(fault.problem == "missing" && fault.place.starts_with(row.place));
                CHECK(known);
            }
            ++added;
        }
    }
    CHECK(added > 20);
}
