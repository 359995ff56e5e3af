#include "scene/documents/source_tree.hpp"

#include "tests/scene/documents/samples.hpp"

#include <doctest/doctest.h>

#include <chrono>
#include <cmath>
#include <string>

using namespace evenclose;
using namespace evenclose::test;

namespace {

std::string at(std::string_view text, const SourceSpan& span) {
    return std::string{text.substr(span.begin, span.end - span.begin)};
}

std::string first_fault(std::string_view text) {
    const SourceTree tree = read_source_tree(text, "f.json");
    CHECK_FALSE(tree.root.has_value());
    REQUIRE(tree.faults.size() == 1);
    CHECK(tree.faults[0].sentence().find('\n') == std::string::npos);
    return tree.faults[0].sentence();
}

/// Every span holds just what its value was made from.
void check_spans(std::string_view text, const SourceValue& value) {
    const std::string typed = at(text, value.span);
    REQUIRE_FALSE(typed.empty());
    switch (value.kind) {
    case SourceValue::Kind::null:
        CHECK(typed == "null");
        break;
    case SourceValue::Kind::boolean:
        CHECK(typed == (value.boolean ? "true" : "false"));
        break;
    case SourceValue::Kind::number:
        CHECK(std::stod(typed) == value.number);
        break;
    case SourceValue::Kind::text:
        CHECK(typed.front() == '"');
        CHECK(typed.back() == '"');
        break;
    case SourceValue::Kind::list:
        CHECK(typed.front() == '[');
        CHECK(typed.back() == ']');
        for (const SourceValue& item : value.items) {
            check_spans(text, item);
        }
        break;
    case SourceValue::Kind::object:
        CHECK(typed.front() == '{');
        CHECK(typed.back() == '}');
        for (const SourceEntry& entry : value.entries) {
            CHECK(at(text, entry.key_span).front() == '"');
            check_spans(text, entry.value);
        }
        break;
    }
}

} // namespace

TEST_CASE("every value knows where it stands, whatever stands around it") {
    const std::string text =
        "\xEF\xBB\xBF// \"a\": 1, { \r\n/* , : [ */ { \"a\" /* x */ : // y\n -1.5e2/**/,\"b\\\"c\\\\\":"
        "[ true,false , null,\"\\\"]// no comment\", {} ,[],3 ] } // end";
    const SourceTree tree = read_source_tree(text, "f");
    REQUIRE(tree.root);
    check_spans(text, *tree.root);
    REQUIRE(tree.root->entries.size() == 2);
    CHECK(at(text, tree.root->entries[0].value.span) == "-1.5e2");
    CHECK(tree.root->entries[1].key == "b\"c\\");
    CHECK(at(text, tree.root->entries[1].key_span) == "\"b\\\"c\\\\\"");
    const SourceValue& list = tree.root->entries[1].value;
    REQUIRE(list.items.size() == 7);
    CHECK(list.items[3].text == "\"]// no comment");
    CHECK(list.items[6].number == 3);
    CHECK(list.items[6].whole);
    CHECK_FALSE(tree.root->entries[0].value.whole);
    for (const std::string_view sample : {kPressSample, kMoldSample, kBlockMoldSample, kSetupSample}) {
        const SourceTree read = read_source_tree(sample, "f");
        REQUIRE(read.root);
        check_spans(sample, *read.root);
    }
}

TEST_CASE("a number keeps the double nearest to what was typed, and its size where a double cannot hold it") {
    const auto number = [](const char* text) {
        const SourceTree tree = read_source_tree(text, "f");
        REQUIRE(tree.root);
        return tree.root->number;
    };
    CHECK(number("0.1") == 0.1);
    CHECK(number("25.4") == 25.4);
    CHECK(number("9007199254740993") == 9007199254740992.0); // 2^53 + 1 is between two doubles, to even
    CHECK(number("18446744073709551616") == 18446744073709551616.0);
    CHECK(std::isinf(number("1e999")));
    CHECK(number("-1e999") < 0);
    CHECK(number("1e-999") == 0);
    CHECK(first_fault("{\"a\": 1e99999}") == "f.json: line 1, column 7: 1e99999 is beyond what a number can hold");
}

TEST_CASE("what is no JSON is told once, with line and column") {
    struct Row {
        const char* what;
        std::string text, sentence;
    };
    const Row rows[] = {
        {"empty", "", "f.json: the file is empty; a document starts with { \"evenclose\": "},
        {"blank", " \n\n", "f.json: the file is empty; a document starts with { \"evenclose\": "},
        {"comma before the bracket", "{\n  \"a\": 1, // one\n}\n",
         "f.json: line 3, column 1: a comma stands before the closing }; take it out"},
        {"comma before the bracket of a list", "[1, 2,]",
         "f.json: line 1, column 7: a comma stands before the closing ]; take it out"},
        {"comma missing", "{\n  \"a\": 1\n  \"b\": 2\n}",
         "f.json: line 3, column 3: \"b\" stands where a comma or a bracket is due"},
        {"comma missing in a list", "[1 2]", "f.json: line 1, column 4: 2 stands where a comma or a bracket is due"},
        {"the other bracket", "{ \"a\": [1, 2 }",
         "f.json: line 1, column 14: } closes what was opened with the other bracket"},
        {"colon missing", "{ \"a\" 1 }",
         "f.json: line 1, column 7: 1 stands where a colon is due; a key is followed by : and its value"},
        {"value missing", "{ \"a\":, \"b\": 2 }",
         "f.json: line 1, column 7: , is no value; a value is a number, a text in double quotes, true, false, [ ... ] "
         "or { ... }"},
        {"key without quotes", "{ a: 1 }",
         "f.json: line 1, column 3: a is no key; a key stands in double quotes: \"name\""},
        {"single quotes", "{ 'a': 1 }",
         "f.json: line 1, column 3: 'a' is no key; a key stands in double quotes: \"name\""},
        {"NaN", "{ \"a\": NaN }",
         "f.json: line 1, column 8: NaN is no value; a value is a number, a text in double quotes, true, false, [ ... "
         "] or { ... }"},
        {"infinity", "{ \"a\": -Infinity }",
         "f.json: line 1, column 8: -Infinity is no value; a value is a number, a text in double quotes, true, false, "
         "[ ... ] or { ... }"},
        {"a number that starts with a point", "[.5]",
         "f.json: line 1, column 2: .5 is no value; a value is a number, a text in double quotes, true, false, [ ... ] "
         "or { ... }"},
        {"cut off between", "{ \"a\": [1, 2",
         "f.json: line 1, column 13: the file ends before its last bracket is closed; was it cut off?"},
        {"cut off in a text", "{\n\"a\": \"abc",
         "f.json: line 2, column 10: the file ends in the middle of a text; was it cut off?"},
        {"cut off in a comment", "{ /* \"a\": 1 }",
         "f.json: line 1, column 14: the file ends in the middle of a /* comment; was it cut off?"},
        {"something after", "{} {}",
         "f.json: line 1, column 4: { stands behind the closing bracket; nothing may follow there"},
        {"umlauts count as one character each", "{ \"\xC3\xA4\xC3\xB6\": ? }",
         "f.json: line 1, column 9: ? is no value; a value is a number, a text in double quotes, true, false, [ ... ] "
         "or { ... }"},
        {"not UTF-8", "{ \"a\": \"caf\xE9\" }",
         "f.json: line 1, column 13: a byte that is not UTF-8 stands here; save the file as UTF-8"},
        {"line break in a text", "{ \"a\": \"b\nc\" }",
         "f.json: line 1, column 10: a text runs over the end of its line; close its quotes, or write \\n for a line "
         "break"},
        {"half a surrogate pair", "[\"\\ud800\"]",
         "f.json: line 1, column 9: a text has something in it that JSON does not take: surrogate U+D800..U+DBFF must "
         "be "
         "followed by U+DC00..U+DFFF"},
        {"UTF-16", std::string{"\xFF\xFE{\0}\0", 6}, "f.json: is text in UTF-16; save it as UTF-8"},
        {"a zero byte", std::string{"{}\0{", 4}, "f.json: has zero bytes in it: it is no text file, or was damaged"},
        {"binary", "solid\x01\x02",
         "f.json: line 1, column 1: solid?? is no value; a value is a number, a text in double quotes, true, false, [ "
         "... ] or { ... }"},
    };
    for (const Row& row : rows) {
        CAPTURE(row.what);
        CHECK(first_fault(row.text) == row.sentence);
    }
}

TEST_CASE("a key given twice is told with both lines, and each of them") {
    const SourceTree tree =
        read_source_tree("{\n\"a\": 1,\n\"b\": [ { \"c\": 1,\n \"c\": { \"d\": 1, \"d\": 2 } } ],\n\"a\": 2 }", "f");
    REQUIRE(tree.root);
    CHECK(tree.root->find("a")->number == 1);
    CHECK(all_sentences(tree.faults) == "f: b[0].c: given twice, in line 3 and line 4; keep one\n"
                                        "f: b[0].c.d: given twice in line 4; keep one\n"
                                        "f: a: given twice, in line 2 and line 5; keep one\n");
    CHECK(tree.faults[2].line == 5);
    CHECK(tree.faults[2].column == 1);
}

TEST_CASE("input made to hurt is refused at once") {
    using Clock = std::chrono::steady_clock;
    const auto start = Clock::now();
    const std::size_t mega = 1U << 20U;
    CHECK(first_fault(std::string(mega, '[')) ==
          "f.json: line 1, column 33: brackets are nested more than 32 deep; no document needs that");
    std::string objects;
    while (objects.size() < mega) {
        objects += "{\"a\":";
    }
    CHECK(first_fault(objects).find("nested more than 32 deep") != std::string::npos);
    CHECK(first_fault(std::string(mega, '9')).size() < 200);
    CHECK(first_fault("\"" + std::string(mega, 'a')).find("ends in the middle of a text") != std::string::npos);
    CHECK(first_fault(std::string(mega, '"')).size() < 200);
    CHECK(first_fault(std::string(mega, '\xFF')).size() < 200);
    std::string doubled = "{\"k\":0";
    while (doubled.size() < mega) {
        doubled += ",\"k\":0";
    }
    CHECK(read_source_tree(doubled + "}", "f").faults.size() == 500);
    // Each takes some milliseconds; what grows with the square of the size takes minutes.
    CHECK(std::chrono::duration<double>(Clock::now() - start).count() < 20);
}

TEST_CASE("every beginning of a document that is cut in half is refused without a crash") {
    for (std::size_t n = 0; n < kMoldSample.size() - 3; ++n) {
        CAPTURE(n);
        const SourceTree tree = read_source_tree(kMoldSample.substr(0, n), "f");
        CHECK_FALSE(tree.root.has_value());
        CHECK(tree.faults.size() == 1);
    }
}

TEST_CASE("what was typed is shown on one line, in valid UTF-8, and not at length") {
    CHECK(shown("-20") == "-20");
    CHECK(shown("a\nb\tc\x7F") == "a?b?c?");
    CHECK(shown("caf\xE9 \xC3\xA9 \xED\xA0\x80 \xF4\x90\x80\x80") ==
          "caf? \xC3\xA9 ??? ????"); // Latin-1; surrogate; beyond
    CHECK(shown("\xC3") == "?");
    CHECK(shown(std::string(1000, 'a') + "\xC3\xA9") ==
          std::string(20, 'a') + " ... " + std::string(19, 'a') + "\xC3\xA9");
}
