#include "scene/documents/document_text.hpp"

#include "tests/scene/documents/samples.hpp"
#include "tests/scene/documents/temporary_folder.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <cmath>
#include <limits>
#include <random>
#include <string>

using namespace evenclose;
using namespace evenclose::test;

namespace {

DocumentText parsed(std::string text) {
    auto result = DocumentText::parse(std::move(text), "f.json");
    REQUIRE(std::holds_alternative<DocumentText>(result));
    return std::move(std::get<DocumentText>(result));
}

std::string after(std::string text, std::string_view place, std::string_view json) {
    DocumentText document = parsed(std::move(text));
    const auto fault = document.set(place, json);
    CHECK_FALSE(fault.has_value());
    return document.text();
}

std::string refused(const std::string& text, std::string_view place, std::string_view json) {
    DocumentText document = parsed(text);
    const auto fault = document.set(place, json);
    CHECK(document.text() == text);
    CHECK_FALSE(document.edited());
    return fault.value_or("no fault");
}

} // namespace

TEST_CASE("unedited, a document is written back byte for byte") {
    const TemporaryFolder folder;
    const std::string odd = "\xEF\xBB\xBF// caf\xE9 in a comment\r\n{\t\"a\" :1.50 , /* x */\r\n  \"b\":[ ],\n\n\"c\": "
                            "\"\\u00e9\" } // end";
    for (const std::string& text : {std::string{kPressSample}, std::string{kMoldSample}, odd}) {
        const std::filesystem::path file = folder.write("d.json", text);
        auto read = DocumentText::read(file);
        REQUIRE(std::holds_alternative<DocumentText>(read));
        auto& document = std::get<DocumentText>(read);
        CHECK_FALSE(document.edited());
        CHECK_FALSE(document.write(file).has_value());
        CHECK(bytes_of(file) == text);
    }
}

TEST_CASE("an edit replaces the value and nothing else") {
    const std::string text =
        "{ // first\r\n\t\"a\" : 1.50, /* keep */ \"list\": [ {\"x\":1} ,{ \"x\" : \"old\" } ] // last\n}";
    CHECK(after(text, "a", "2") ==
          "{ // first\r\n\t\"a\" : 2, /* keep */ \"list\": [ {\"x\":1} ,{ \"x\" : \"old\" } ] // last\n}");
    CHECK(after(text, "list[1].x", "\"newer\"") ==
          "{ // first\r\n\t\"a\" : 1.50, /* keep */ \"list\": [ {\"x\":1} ,{ \"x\" : \"newer\" } ] // last\n}");
    CHECK(after(text, "list[0]", "null") ==
          "{ // first\r\n\t\"a\" : 1.50, /* keep */ \"list\": [ null ,{ \"x\" : \"old\" } ] // last\n}");
    DocumentText document = parsed(text);
    CHECK(document.typed_at("a") == "1.50");
    CHECK(document.typed_at("list[0]") == "{\"x\":1}");
    CHECK_FALSE(document.typed_at("list[2]").has_value());
    CHECK_FALSE(document.typed_at("b").has_value());
    CHECK_FALSE(document.typed_at("list[x]").has_value());
    CHECK_FALSE(document.typed_at("a..b").has_value());
    // One after another: places move with the text.
    CHECK_FALSE(document.set("a", "1000000").has_value());
    CHECK_FALSE(document.set("list[1].x", json_text("a \"b\"\n\xC3\xA9")).has_value());
    CHECK_FALSE(document.set("a", "3").has_value());
    CHECK(document.edited());
    CHECK(document.text() == "{ // first\r\n\t\"a\" : 3, /* keep */ \"list\": [ {\"x\":1} ,{ \"x\" : \"a "
                             "\\\"b\\\"\\n\xC3\xA9\" } ] // last\n}");
    CHECK_FALSE(document.set("a", "1.50").has_value());
    CHECK_FALSE(document.set("list[1].x", "\"old\"").has_value());
    CHECK_FALSE(document.edited()); // undone
}

TEST_CASE("a key that is missing is added behind the last one, in the manner of the others") {
    CHECK(after("{}", "a", "1") == "{ \"a\": 1 }");
    CHECK(after("{ \"a\": 1 }", "b", "2") == "{ \"a\": 1, \"b\": 2 }");
    CHECK(after("{\n  \"a\": 1\n}\n", "b", "2") == "{\n  \"a\": 1,\n  \"b\": 2\n}\n");
    CHECK(after("{\r\n\t\"a\": 1 // one\r\n}", "b", "2") == "{\r\n\t\"a\": 1, // one\r\n\t\"b\": 2\r\n}");
    CHECK(after("{\n  \"a\": 1 /* one\n two */ }", "b", "2") == "{\n  \"a\": 1,\n  \"b\": 2 /* one\n two */ }");
    CHECK(after("{\n  \"a\": 1 }", "b", "2") == "{\n  \"a\": 1,\n  \"b\": 2 }");
    CHECK(after("{\n  \"a\": { \"x\": 1 } // one\n}", "a.y", "[2]") ==
          "{\n  \"a\": { \"x\": 1, \"y\": [2] } // one\n}");
    CHECK(after("{ \"a\": [ {} ] }", "a[0].y", "2") == "{ \"a\": [ { \"y\": 2 } ] }");
    CHECK(after("{\n  \"a\": 1 // } \"c\": 3\n}", "b", "2") == "{\n  \"a\": 1, // } \"c\": 3\n  \"b\": 2\n}");
}

TEST_CASE("what cannot be edited is told, and the text stays") {
    const std::string text = "{\n  \"a\": 1, \"list\": [1] }";
    CHECK(refused(text, "b.c", "1") == "f.json: b.c: there is no such place");
    CHECK(refused(text, "list[1]", "1") == "f.json: list[1]: there is no such place");
    CHECK(refused(text, "a.b", "1") == "f.json: a.b: there is no such place");
    CHECK(refused(text, "", "1") == "f.json: : is no place in a document; one is written as in jacks[1].stroke");
    CHECK(refused(text, "list[-1]", "1").find("is no place in a document") != std::string::npos);
    CHECK(refused(text, "list[99999999999999999999]", "1").find("is no place in a document") != std::string::npos);
    CHECK(refused(text, "a", "nan") == "f.json: a: nan is no JSON value");
    CHECK(refused(text, "a", "") == "f.json: a:  is no JSON value");
    CHECK(refused(text, "a", "1, \"b\": 2") == "f.json: a: 1, \"b\": 2 is no JSON value");
    CHECK(refused(text, "a", "{\"x\":1,\"x\":2}").find("is no JSON value") != std::string::npos);
    // A comment behind the value would swallow the comma.
    CHECK(refused(text, "a", "2 // two") == "f.json: a: cannot hold 2 // two");
    std::string deep;
    for (int i = 0; i < 32; ++i) {
        deep += "[";
    }
    CHECK(refused(text, "a", deep + std::string(32, ']')).find("cannot hold [[[[") != std::string::npos);
}

TEST_CASE("a text that is no document is refused with its faults") {
    const auto faults = DocumentText::parse(R"({ "a": 1, "a": 2 })", "f.json");
    REQUIRE(std::holds_alternative<std::vector<DocumentFault>>(faults));
    CHECK(all_sentences(std::get<std::vector<DocumentFault>>(faults)) ==
          "f.json: a: given twice in line 1; keep one\n");
    CHECK(std::holds_alternative<std::vector<DocumentFault>>(DocumentText::read("/nowhere/at/all.json")));
    CHECK(std::holds_alternative<std::vector<DocumentFault>>(DocumentText::parse("{", "f.json")));
}

TEST_CASE("after any edit the document holds what was set and all else as before [nlohmann-json as referee]") {
    std::mt19937 random(4711);
    const std::string places[] = {"members[0].name",
                                  "members[6].roll",
                                  "head.size[1]",
                                  "jacks[1].stroke",
                                  "jacks[0].foot",
                                  "guides[0].bore",
                                  "note",
                                  "jacks[1].parked",
                                  "platen.x",
                                  "name",
                                  "members[4].section.rod",
                                  "guides"};
    const std::string values[] = {"1", "-2.5e3", "\"7 in\"", "[1, 2]", "{ \"k\": [] }", "true", "null"};
    DocumentText document = parsed(std::string{kPressSample});
    nlohmann::json expected = nlohmann::json::parse(kPressSample, nullptr, true, true);
    for (int trial = 0; trial < 300; ++trial) {
        const std::string& place = places[random() % std::size(places)];
        const std::string& value = values[random() % std::size(values)];
        CAPTURE(trial);
        CAPTURE(place);
        std::string pointer = "/" + place;
        for (std::size_t at = 0; (at = pointer.find_first_of(".[]", at)) != std::string::npos;) {
            pointer.replace(at, 1, pointer[at] == ']' ? "" : "/");
        }
        const auto fault = document.set(place, value);
        if (fault) { // a trial before put something else in its way
            continue;
        }
        expected[nlohmann::json::json_pointer{pointer}] = nlohmann::json::parse(value);
        REQUIRE(nlohmann::json::parse(document.text(), nullptr, true, true) == expected);
    }
    CHECK(document.text().starts_with("// A press of the tests' own.\n{\n"));
}

TEST_CASE("numbers and texts as JSON") {
    CHECK(json_number(0.1) == "0.1");
    CHECK(json_number(25.4) == "25.4");
    CHECK(json_number(180) == "180");
    CHECK(json_number(-0.0) == "-0");
    for (const double value : {1.0 / 3, 1e300, -5e-324, 123456789.123456789}) {
        CHECK(nlohmann::json::parse(json_number(value)).get<double>() == value);
    }
    CHECK(json_text("7 1/2\"") == "\"7 1/2\\\"\"");
    CHECK(json_text("caf\xE9") == "\"caf\xEF\xBF\xBD\"");
}

TEST_CASE("an edited document is written atomically and read again by the reader") {
    const TemporaryFolder folder;
    const std::filesystem::path file = folder.write("p.json", kPressSample);
    auto read = DocumentText::read(file);
    REQUIRE(std::holds_alternative<DocumentText>(read));
    auto& document = std::get<DocumentText>(read);
    CHECK_FALSE(document.set("jacks[1].stroke", json_text("8 in")).has_value());
    CHECK_FALSE(document.set("jacks[1].parked", json_number(12.5)).has_value());
    CHECK_FALSE(document.write(file).has_value());
    CHECK_FALSE(document.edited());
    CHECK(bytes_of(file) == changed(changed(kPressSample, "\"stroke\": 180", "\"stroke\": \"8 in\""),
                                    "\"head_diameter\": 60, \"head_thickness\": 15 }\n  ],",
                                    "\"head_diameter\": 60, \"head_thickness\": 15, \"parked\": 12.5 }\n  ],"));
    CHECK(document.write(folder.path() / "none" / "p.json").has_value());
}
