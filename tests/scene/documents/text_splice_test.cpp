#include "scene/documents/text_splice.hpp"

#include "scene/documents/document_text.hpp"
#include "tests/scene/documents/samples.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <random>
#include <string>
#include <vector>

using namespace evenclose;
using namespace evenclose::test;
using nlohmann::json;

namespace {

DocumentText parsed(std::string text) {
    auto result = DocumentText::parse(std::move(text), "f.json");
    REQUIRE(std::holds_alternative<DocumentText>(result));
    return std::move(std::get<DocumentText>(result));
}

std::string without(std::string text, std::string_view place) {
    DocumentText document = parsed(std::move(text));
    CHECK(document.remove(place).value_or("") == "");
    return document.text();
}

std::string with(std::string text, std::string_view place, std::string_view item) {
    DocumentText document = parsed(std::move(text));
    CHECK(document.add(place, item).value_or("") == "");
    return document.text();
}

json read_json(const std::string& text) { return json::parse(text, nullptr, true, true); }

/// Every place in the document, lists and objects too, in our writing and as a JSON pointer.
struct Spot {
    std::string place, pointer;
    const json* value;
};
void collect(const json& value, const std::string& place, const std::string& pointer, std::vector<Spot>& spots) {
    if (!place.empty()) {
        spots.push_back({place, pointer, &value});
    }
    if (value.is_object()) {
        for (const auto& [key, child] : value.items()) {
            collect(child, place_of(place, key), pointer + "/" + key, spots);
        }
    } else if (value.is_array()) {
        for (std::size_t i = 0; i < value.size(); ++i) {
            collect(value[i], place_of(place, i), pointer + "/" + std::to_string(i), spots);
        }
    }
}

/// What is left when blanks and commas go, and the longest common head and tail of both are taken off `after`.
std::string solid(const std::string& text) {
    std::string kept;
    for (const char c : text) {
        if (c != ' ' && c != '\t' && c != '\n' && c != '\r' && c != ',') {
            kept += c;
        }
    }
    return kept;
}

/// The document above with line ends as `newline`, comments sprinkled where they may stand.
std::string commented(std::string text, std::mt19937& random, const std::string& newline) {
    std::string out;
    bool quoted = false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        if (text.compare(i, 2, "//") == 0 && !quoted) { // the sample's own comment
            const std::size_t end = text.find('\n', i);
            out += text.substr(i, end - i);
            i = end - 1;
            continue;
        }
        if (c == '\n') {
            out += newline;
            continue;
        }
        out += c;
        if (c == '"' && (i == 0 || text[i - 1] != '\\')) {
            quoted = !quoted;
        }
        if (!quoted && (c == ',' || c == '[' || c == '{') && random() % 6 == 0) {
            out += random() % 2 == 0 ? " /* , } ] */" : " // \"x\": [1," + newline;
        }
    }
    return out;
}

} // namespace

TEST_CASE("an item is added behind the last one of its list, in the manner of the others") {
    CHECK(with("[]", "", "1") == "[ 1 ]");
    CHECK(with("{ \"a\": [1, 2] }", "a", "3") == "{ \"a\": [1, 2, 3] }");
    CHECK(with("{\n  \"a\": [\n    { \"x\": 1 }\n  ]\n}", "a", "{ \"x\": 2 }") ==
          "{\n  \"a\": [\n    { \"x\": 1 },\n    { \"x\": 2 }\n  ]\n}");
    CHECK(with("{\r\n\t\"a\": [\r\n\t\t1 // one\r\n\t]\r\n}", "a", "2") ==
          "{\r\n\t\"a\": [\r\n\t\t1, // one\r\n\t\t2\r\n\t]\r\n}");
    CHECK(with("{ \"a\": [ /* none */ ] }", "a", "1") == "{ \"a\": [ 1 /* none */ ] }");
    DocumentText document = parsed("{ \"a\": 1 }");
    CHECK(document.add("a", "1") == "f.json: a: there is no such list");
    CHECK(document.add("b", "1") == "f.json: b: there is no such list");
    CHECK(document.text() == "{ \"a\": 1 }");
}

TEST_CASE("what is removed takes its comma and its lines along, and nothing else") {
    CHECK(without("{ \"a\": 1 }", "a") == "{ }");
    CHECK(without("{ \"a\": 1, \"b\": 2 }", "a") == "{ \"b\": 2 }");
    CHECK(without("{ \"a\": 1, \"b\": 2 }", "b") == "{ \"a\": 1 }");
    CHECK(without("[1, 2, 3]", "[1]") == "[1, 3]");
    CHECK(without("[1, 2, 3]", "[2]") == "[1, 2]");
    const std::string lines =
        "{\n  // above a\n  \"a\": 1, // a\n  \"b\": {\n    \"c\": 2\n  }, // b\n  \"d\": 3 // d\n}\n";
    CHECK(without(lines, "a") == "{\n  // above a\n  \"b\": {\n    \"c\": 2\n  }, // b\n  \"d\": 3 // d\n}\n");
    CHECK(without(lines, "b") == "{\n  // above a\n  \"a\": 1, // a\n  \"d\": 3 // d\n}\n");
    CHECK(without(lines, "d") == "{\n  // above a\n  \"a\": 1, // a\n  \"b\": {\n    \"c\": 2\n  } // b\n}\n");
    CHECK(without(lines, "b.c") == "{\n  // above a\n  \"a\": 1, // a\n  \"b\": {\n  }, // b\n  \"d\": 3 // d\n}\n");
    CHECK(without("{\r\n\t\"a\": 1,\r\n\t\"b\": 2\r\n}", "b") == "{\r\n\t\"a\": 1\r\n}");
    CHECK(without("{\r\n\t\"a\": 1,\r\n\t\"b\": 2\r\n}", "a") == "{\r\n\t\"b\": 2\r\n}");
    CHECK(without("{ \"a\": 1 /* , */, \"b\": 2 }", "a") == "{  /* , */ \"b\": 2 }");
    CHECK(without("{ \"a\": 1, // , one\n \"b\": 2 }", "b") == "{ \"a\": 1 // , one\n  }");
    // The comment ends at the lone carriage return; what follows it is no comment.
    CHECK(without("{\n\"a\": 1, // x\r\"b\": 2 }", "a") == "{\n// x\r\"b\": 2 }");
    DocumentText document = parsed("{ \"a\": [1] }");
    CHECK(document.remove("b") == "f.json: b: there is no such place");
    CHECK(document.remove("a[1]") == "f.json: a[1]: there is no such place");
    CHECK(document.remove("").has_value());
    CHECK(document.text() == "{ \"a\": [1] }");
}

TEST_CASE("adding what was removed last, or removing what was added, gives the text back") {
    for (const std::string_view sample : {kPressSample, kMoldSample}) {
        DocumentText document = parsed(std::string{sample});
        for (const char* list : {"members", "jacks", "guides", "joints", "stack.plies"}) {
            if (!document.typed_at(list)) {
                continue;
            }
            CHECK(document.add(list, "{ \"name\": \"another\" }") == std::nullopt);
            const std::size_t last =
                read_json(document.text())
                    .at(json::json_pointer(list == std::string{"stack.plies"} ? "/stack/plies"
                                                                              : "/" + std::string{list}))
                    .size() -
                1;
            CHECK(document.remove(place_of(list, last)) == std::nullopt);
            CHECK(document.text() == sample);
        }
    }
}

TEST_CASE("after any series of edits the document reads, holds what was done to it, and its comments are there "
          "[nlohmann-json as referee]") {
    const std::string values[] = {"1", "-2.5e3", "\"7 in\"", "[1, 2]", "{ \"k\": [] }", "true", "null", "{}"};
    std::mt19937 random(4711);
    const auto any = [&](std::size_t below) { return static_cast<std::size_t>(random() % below); };
    std::size_t done = 0;
    for (int series = 0; series < 120; ++series) {
        CAPTURE(series);
        const std::string_view sample = series % 2 == 0 ? kPressSample : kMoldSample;
        DocumentText document = parsed(commented(std::string{sample}, random, series % 3 == 0 ? "\r\n" : "\n"));
        json expected = read_json(document.text());
        for (int step = 0; step < 25; ++step) {
            CAPTURE(step);
            const std::string before = document.text();
            CAPTURE(before);
            std::vector<Spot> spots;
            collect(expected, "", "", spots);
            if (spots.empty()) {
                break;
            }
            const Spot spot = spots[any(spots.size())];
            const std::string value = values[any(std::size(values))];
            CAPTURE(spot.place);
            const json::json_pointer pointer{spot.pointer};
            switch (any(4)) {
            case 0:
                REQUIRE(document.set(spot.place, value) == std::nullopt);
                expected[pointer] = json::parse(value);
                break;
            case 1:
                if (spot.value->is_object()) {
                    REQUIRE(document.set(place_of(spot.place, "added"), value) == std::nullopt);
                    expected[pointer]["added"] = json::parse(value);
                }
                break;
            case 2:
                if (spot.value->is_array()) {
                    REQUIRE(document.add(spot.place, value) == std::nullopt);
                    expected[pointer].push_back(json::parse(value));
                }
                break;
            default: {
                const json::json_pointer parent = pointer.parent_pointer();
                REQUIRE(document.remove(spot.place) == std::nullopt);
                if (expected[parent].is_array()) {
                    expected[parent].erase(std::stoul(pointer.back()));
                } else {
                    expected[parent].erase(pointer.back());
                }
                // All that is left stood there before, in that order: nothing was typed anew.
                const std::string kept = solid(document.text());
                const std::string all = solid(before);
                std::size_t head = 0;
                while (head < kept.size() && kept[head] == all[head]) {
                    ++head;
                }
                REQUIRE(all.size() >= kept.size());
                CHECK(all.ends_with(kept.substr(head)));
            }
            }
            REQUIRE(read_json(document.text()) == expected);
            ++done;
        }
    }
    CHECK(done > 1500);
}
