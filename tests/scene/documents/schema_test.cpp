// The schemas and the readers say the same: the same keys, and the same answer wherever a schema can tell.
#include "scene/documents/document_keys.hpp"
#include "scene/documents/mold_document.hpp"
#include "scene/documents/press_document.hpp"
#include "scene/documents/setup_document.hpp"

#include "tests/places.hpp"
#include "tests/scene/documents/jacks_sample.hpp"
#include "tests/scene/documents/samples.hpp"
#include "tests/scene/documents/temporary_folder.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>
#include <nlohmann/json.hpp>
#include <valijson/adapters/nlohmann_json_adapter.hpp>
#include <valijson/schema.hpp>
#include <valijson/schema_parser.hpp>
#include <valijson/validator.hpp>

#include <set>
#include <string>

using namespace evenclose;
using namespace evenclose::test;
using nlohmann::json;

namespace {

json schema_of(DocumentKind kind) {
    const std::string file = fmt::format("{}/assets/schemas/{}.schema.json", source_folder(), name_of(kind));
    const std::string text = bytes_of(file);
    REQUIRE_MESSAGE(!text.empty(), file);
    return json::parse(text);
}

class Schema {
public:
    explicit Schema(DocumentKind kind) {
        const json text = schema_of(kind);
        valijson::SchemaParser parser{valijson::SchemaParser::kDraft7};
        parser.populateSchema(valijson::adapters::NlohmannJsonAdapter{text}, schema_);
    }
    [[nodiscard]] bool allows(std::string_view document) const {
        const json value = json::parse(document, nullptr, true, true);
        valijson::Validator validator;
        return validator.validate(schema_, valijson::adapters::NlohmannJsonAdapter{value}, nullptr);
    }

private:
    valijson::Schema schema_;
};

bool reader_allows(DocumentKind kind, std::string_view document) {
    const TemporaryFolder folder;
    folder.write("presses/oak.press.json", kPressSample);
    folder.write("molds/dune.mold.json", kMoldSample);
    folder.write("deck.svg", "<svg><rect width='800' height='220'/></svg>");
    folder.write("molds/blocks.mold.json", kBlockMoldSample);
    const std::filesystem::path file = folder.write("d.json", document);
    MeshShelf shelf{BoxImporter{}};
    switch (kind) {
    case DocumentKind::press:
        return read_press(file, shelf).faults.empty();
    case DocumentKind::mold:
        return read_mold(file, shelf).faults.empty();
    case DocumentKind::setup:
        break;
    }
    return read_setup(file, shelf).faults.empty();
}

constexpr DocumentKind kKinds[] = {DocumentKind::press, DocumentKind::mold, DocumentKind::setup};

} // namespace

TEST_CASE("schema and reader know the same keys, object by object, and each is described") {
    for (const DocumentKind kind : kKinds) {
        const json schema = schema_of(kind);
        std::set<std::string> objects_in_schema{std::string{name_of(kind)}};
        for (const auto& [name, definition] : schema["definitions"].items()) {
            if (definition.contains("properties")) {
                objects_in_schema.insert(name);
            }
        }
        std::set<std::string> objects_in_reader;
        for (const ObjectKeys& object : keys_of(kind)) {
            objects_in_reader.insert(std::string{object.object});
            CAPTURE(object.object);
            const bool whole = object.object == name_of(kind);
            const json& definition = whole ? schema : schema["definitions"][std::string{object.object}];
            CHECK(definition["additionalProperties"] == false);
            std::set<std::string> in_schema;
            for (const auto& entry : definition["properties"].items()) {
                const std::string& key = entry.key();
                const json& property = entry.value();
                CAPTURE(key);
                in_schema.insert(key);
                CHECK((property.contains("description") || property.contains("$ref")));
            }
            std::set<std::string> in_reader;
            for (const std::string_view key : object.keys) {
                CAPTURE(key);
                CHECK(in_reader.insert(std::string{key}).second);
            }
            CHECK(in_schema == in_reader);
        }
        CHECK(objects_in_schema == objects_in_reader);
    }
}

TEST_CASE("schema and reader give the same answer wherever a schema can tell") {
    struct Row {
        DocumentKind kind;
        std::string_view sample;
        const char *from, *to;
        bool valid;
    };
    constexpr auto press = DocumentKind::press;
    constexpr auto mold = DocumentKind::mold;
    constexpr auto setup = DocumentKind::setup;
    const Row rows[] = {
        {press, kPressSample, "", "", true},
        {mold, kMoldSample, "", "", true},
        {mold, kBlockMoldSample, "", "", true},
        {setup, kSetupSample, "", "", true},
        {press, kJacksSample, "", "", true},
        // right in another way
        {press, kJacksSample, "\"speed\": 30", "\"speed\": \"30 rpm\"", true},
        {press, kJacksSample, "\"box\": [25, 25, 2]", "\"rod\": 20", true},
        {press, kJacksSample, "\"load_from\": \"front\"", "\"load_from\": \"right\"", true},
        {press, kPressSample, "\"stroke\": 180", "\"stroke\": \"7 1/2 in\"", true},
        {press, kPressSample, "\"note\": \"Every key\\nis in here.\",", "", true},
        {press, kPressSample, ", \"material\": \"S235\"", "", true},
        {press, kPressSample, "\"rate\": \"99 %\"", "\"rate\": 1.25", true},
        {press, kPressSample, "\"from\": [10, 20, 30],", "\"from\": [10, 20, 30], \"to\": [1, 1, 1],", true},
        {mold, kMoldSample, "\"flip\": true", "\"flip\": false", true},
        {mold, kMoldSample, "\"shut_height\": 131.1, \"deck_size\": [800, 220], \"loading\": \"halves\",", "", true},
        {mold, kMoldSample, "\"deck_size\": [800, 220]", "\"deck_outline\": [[-400, -110], [400, -110], [0, 110]]",
         true},
        {mold, kMoldSample, "\"deck_size\": [800, 220]", "\"deck_outline\": [[-400, -110], [400, -110]]", false},
        {mold, kMoldSample, "\"deck_size\": [800, 220]", "\"deck_outline\": [[-400, -110], [400, -110], [0]]", false},
        {mold, kMoldSample, "\"deck_size\": [800, 220]",
         "\"deck_size\": [800, 220], \"deck_outline\": [[-400, -110], [400, -110], [0, 110]]", false},
        {mold, kMoldSample, "\"deck_size\": [800, 220]",
         "\"deck_outline\": { \"file\": \"deck.svg\", \"unit\": \"mm\", \"offset\": [-100, \"-1 in\"], \"turn\": 90 }",
         true},
        {mold, kMoldSample, "\"deck_size\": [800, 220]", "\"deck_outline\": { \"unit\": \"mm\" }", false},
        {mold, kMoldSample, "\"deck_size\": [800, 220]", "\"deck_outline\": { \"file\": \"deck.svg\", \"flip\": 1 }",
         false},
        {mold, kMoldSample, "\"deck_size\": [800, 220]", "\"deck_outline\": \"deck.svg\"", false},
        {mold, kMoldSample, "\"fill\": \"20 %\"", "\"fill\": 0.15", true},
        {mold, kMoldSample, "\"fill\": \"20 %\"", "\"fill\": 20", false},
        {mold, kMoldSample, "\"wall\": 1.2", "\"wall\": -1.2", false},
        {setup, kSetupSample, ", \"at\": [0, 5], \"turn\": 180", "", true},
        {setup, kSetupSample, "\"turn\": 180", "\"turn\": \"180 deg\"", true},
        {mold, kMoldSample, "\"at\": 10", "\"at\": \"50 F\"", true},
        {mold, kMoldSample, "\"at\": 10", "\"at\": 400", false},
        {mold, kMoldSample, "\"at\": 10, ", "", false},
        {mold, kMoldSample, "\"closed_time\": 20", "\"closed_time\": -1", false},
        {mold, kMoldSample, "\"closed_time\": 20", "\"closed_tmie\": 1", false},
        {mold, kMoldSample, "\"spread\": 180", "\"spread\": 0", false},
        {setup, kSetupSample, "\"helpers\": 1", "\"helpers\": 1.5", false},
        {setup, kSetupSample, "\"load\": \"90 s\", ", "", false},
        {setup, kSetupSample, "\"close\": \"30 s\", ", "", true},
        {setup, kSetupSample, "\"hours_a_day\": 7.5", "\"hours_a_day\": 25", false},
        {setup, kSetupSample, "\"racks\": 30", "\"racks\": 0", false},
        {setup, kSetupSample, "\"hour\": 35", "\"hour\": -35", false},
        {setup, kSetupSample, "\"temperature\": \"18 C\"", "\"temperature\": 500", false},
        // jacks, drives, shafts
        {press, kJacksSample, "\"hose\": {", "\"lead\": 4, \"hose\": {", false},
        {press, kJacksSample, "\"hose\": {", "\"cylinder\": {}, \"hose\": {", false},
        {press, kJacksSample, "\"stages\": 2", "\"stages\": 1.5", false},
        {press, kJacksSample, "\"one_nut\": false", "\"one_nut\": 0", false},
        {press, kJacksSample, "\"bore\": 80, ", "", false},
        {press, kJacksSample, "\"form\": \"square\"", "\"form\": \"sqare\"", false},
        {press, kJacksSample, "\"friction\": 0.08", "\"friction\": 8", false},
        {press, kJacksSample, "\"starts\": 2, \"friction\": 0.08", "\"starts\": 2", false},
        {press, kJacksSample, "\"post_to\": 1100, \"friction\": 0.15", "\"post_to\": 1100, \"friction\": -1", false},
        {press, kJacksSample, "\"jacks\": [\"left\"]", "\"jacks\": []", false},
        {press, kJacksSample, "\"jacks\": [\"left\"]", "\"jacks\": [\"left\", \"left\"]", false},
        {press, kJacksSample, "\"speed\": \"1400 rpm\", ", "", false},
        {press, kJacksSample, "\"speed\": \"1400 rpm\"", "\"speed\": \"1400 rpm\", \"flow\": 1", false},
        {press, kJacksSample, "\"tolerance\": \"2 %\", ", "", false},
        {press, kJacksSample, "\"tolerance\": 0.1", "\"tolerance\": 1", false},
        {press, kJacksSample, "\"flow\": \"2 l/min\"", "\"flow\": \"2 l/min\", \"gear_ratio\": 2", false},
        {press, kJacksSample, "[\"left\", \"right\"]", "[\"left\"]", false},
        {press, kJacksSample, "\"box\": [25, 25, 2]", "\"box\": [25, 25, 2], \"rod\": 12", false},
        {press, kJacksSample, "\"play\": \"1 deg\"", "\"play\": 1, \"radius\": 3", false},
        {press, kJacksSample, "\"radius\": 10 }", "\"radiuss\": 10 }", false},
        {press, kJacksSample, "\"spread\": 0.1, ", "", false},
        {press, kJacksSample, "\"travel\": 0,", "\"travel\": -1,", false},
        {press, kJacksSample, "\"load_from\": \"front\"", "\"load_from\": \"bak\"", false},
        {press, kJacksSample, "\"mass\": \"85 kg\"", "\"mass\": 0", false},
        {mold, kMoldSample, "\"loading\": \"halves\"", "\"loading\": \"half\"", false},
        // materials, built-up sections, bolts
        {press, kPressSample, "\"E_across\": 300, \"G\": 560, ", "", true},
        {press, kPressSample, "\"kind\": \"timber\"", "\"kind\": \"other\"", true},
        {press, kPressSample, "\"kind\": \"steel\"", "\"kind\": \"other\"", true},
        {press, kPressSample, "\"kind\": \"steel\"", "\"kind\": \"panel\"", false},
        {press, kPressSample, "\"kind\": \"timber\"", "\"kind\": \"steel\"", false},
        {press, kPressSample, "\"yield\": \"230 MPa\"", "\"yield\": \"230 MPa\", \"shear\": 3", false},
        {press, kPressSample, "\"bending\": 7,", "\"bending\": 7, \"yield\": 9,", false},
        {press, kPressSample, "\"bearing\": 2, ", "", false},
        {press, kPressSample, ", \"source\": \"mill sheet\"", "", false},
        {press, kPressSample, "{ \"rod\": 20 }", "{ \"rod\": 20, \"corner_radius\": 2 }", false},
        {press, kPressSample, "{ \"rod\": 20 }", "{ \"rod\": 20, \"pipe\": [20, 2] }", false},
        {press, kPressSample, "{ \"rod\": 20 }", "{ \"mesh\": \"parts/bracket.stl\" }", false},
        {press, kPressSample, "\"count\": 2, ", "", true},
        {press, kPressSample, "\"count\": 2", "\"count\": 0", false},
        {press, kPressSample, "\"bolted\", \"bolts\"", "\"welded\", \"bolts\"", false},
        // kind and version
        {press, kPressSample, "\"evenclose\": \"press\"", "\"evenclose\": \"mold\"", false},
        {press, kPressSample, "\"evenclose\": \"press\",", "", false},
        {mold, kMoldSample, "\"version\": 1", "\"version\": 2", false},
        {setup, kSetupSample, "\"version\": 1", "\"version\": \"1\"", false},
        {setup, kSetupSample, "\"version\": 1,", "", false},
        {setup, kSetupSample, "\"unit\": \"mm\"", "\"unit\": \"furlong\"", false},
        {setup, kSetupSample, "\"note\": \"\"", "\"note\": []", false},
        // unknown, missing
        {press, kPressSample, "\"stroke\": 180", "\"strokes\": 180", false},
        {press, kPressSample, "\"bore\": 30.2, ", "", false},
        {press, kPressSample, "\"to\": [100, 0, 0],", "", false},
        {press, kPressSample, "\"thickness\": 50, ", "", false},
        {press, kPressSample, "\"jacks\"", "\"jack\"", false},
        {mold, kMoldSample, "\"grain\": \"across\"", "\"grian\": \"across\"", false},
        {mold, kMoldSample, "\"stack\"", "\"stacks\"", false},
        {setup, kSetupSample, "\"press\": \"presses/oak.press.json\",", "", false},
        {setup, kSetupSample, "\"mold\": \"molds/dune.mold.json\", ", "", false},
        {setup, kSetupSample, "\"seat_overhang\": 1", "\"seat_overhangs\": 1", false},
        // wrong type or count
        {press, kPressSample, "[900, 400]", "[900]", false},
        {press, kPressSample, "[900, 400]", "900", false},
        {press, kPressSample, "\"stroke\": 180", "\"stroke\": null", false},
        {press, kPressSample, "\"name\": \"Every key\"", "\"name\": 1", false},
        {press, kPressSample, "\"name\": \"Every key\"", "\"name\": \"\"", false},
        {press, kPressSample, "{ \"rod\": 12 }", "\"rod\"", false},
        {mold, kMoldSample, "\"flip\": true", "\"flip\": 1", false},
        {mold, kMoldSample, "\"count\": 4", "\"count\": 4.5", false},
        {mold, kMoldSample, "\"grain\": \"across\"", "\"grain\": \"up\"", false},
        {setup, kSetupSample, "\"limits\": {", "\"limits\": [], \"limits_were\": {", false},
        // impossible value
        {press, kPressSample, "\"stroke\": 180", "\"stroke\": 0", false},
        {press, kPressSample, "\"stroke\": 180", "\"stroke\": -180", false},
        {press, kPressSample, "\"stroke\": 180", "\"stroke\": \"-180 mm\"", false},
        {press, kPressSample, "\"parked\": 10", "\"parked\": -10", false},
        {press, kPressSample, "\"roll\": 90", "\"roll\": 900", false},
        {press, kPressSample, "\"rated_load\": 20000", "\"rated_load\": 0", false},
        {press, kPressSample, "\"rate\": \"99 %\"", "\"rate\": 99", false},
        {press, kPressSample, "\"rate_tolerance\": 0.01", "\"rate_tolerance\": 1", false},
        {mold, kMoldSample, "\"count\": 4", "\"count\": 0", false},
        {mold, kMoldSample, "\"count\": 4", "\"count\": 501", false},
        {mold, kMoldSample, "\"glue_line\": 0.1", "\"glue_line\": -0.1", false},
        {setup, kSetupSample, "\"seat_flatness\": 0.2", "\"seat_flatness\": -0.2", false},
        // what does not go together
        {press, kPressSample, "{ \"rod\": 12 }", "{ \"rod\": 12, \"corner_radius\": 1 }", false},
        {press, kPressSample, "{ \"rod\": 12 }", "{ \"rod\": 12, \"timber\": [1, 1] }", false},
        {press, kPressSample, "{ \"rod\": 12 }", "{}", false},
        {press, kPressSample, "\"mesh\": \"parts/platen.stl\", ", "", false},
        {mold, kBlockMoldSample, "\"block\": [780, 240, 50]", "\"block\": [780, 240, 50], \"turn\": 1", false},
        {mold, kMoldSample, "{ \"mesh\": \"upper.stl\" }", "{}", false},
        {mold, kMoldSample, "\"mesh\": \"upper.stl\"", "\"mesh\": \"upper.stl\", \"block\": [1, 1, 1]", false},
        {setup, kSetupSample, "\"openings\": [", "\"openings\": [ { \"mold\": \"molds/dune.mold.json\" }, ", false},
        {setup, kStackSample, "\"decks\": 2", "\"decks\": 3", true},
        {setup, kStackSample, "\"decks\": 2", "\"decks\": 0", false},
        {setup, kStackSample, "\"decks\": 2", "\"deks\": 2", false},
        {setup, kStackSample, "\"count\": 1", "\"count\": 20", false},
        {setup, kStackSample, "\"rest\": 480", "\"rest\": 0", false},
        {setup, kStackSample, "\"rest\": 480", "\"rests\": 480", false},
        {setup, kStackSample, "\"guided\": false", "\"guided\": \"no\"", false},
        {setup, kStackSample, "\"mass\": \"22 kg\"", "\"mass\": -1", false},
        {setup, kStackSample, "\"size\": [850, 350], ", "", false},
        {setup, kSetupSample, "\"limits\"",
         "\"intermediate_platens\": [ { \"size\": [9, 9], \"thickness\": 9 } ], \"limits\"", false},
        {press, kPressSample, "\"rests\": [450, 620]", "\"rests\": [450]", true},
        {press, kPressSample, "\"rests\": [450, 620]", "\"rests\": []", false},
        {press, kPressSample, "\"rests\": [450, 620]", "\"rests\": [0, 620]", false},
        {press, kPressSample, "\"rests\": [450, 620]", "\"rests\": 450", false},
    };
    const Schema schemas[] = {Schema{press}, Schema{mold}, Schema{setup}};
    for (const Row& row : rows) {
        CAPTURE(row.from);
        CAPTURE(row.to);
        const std::string document = changed(row.sample, row.from, row.to);
        CHECK(reader_allows(row.kind, document) == row.valid);
        CHECK(schemas[static_cast<std::size_t>(row.kind)].allows(document) == row.valid);
    }
}
