// Documents made to hurt: told with a place, in bounded time and memory. What a broken file can be otherwise is in
// source_tree_test and setup_document_test.
#include "scene/documents/documents.hpp"
#include "scene/documents/source_file.hpp"
#include "tests/peak_memory.hpp"
#include "tests/scene/documents/samples.hpp"
#include "tests/scene/documents/temporary_folder.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <sys/stat.h>

#include <ctime>
#include <filesystem>
#include <string>
#include <vector>

using namespace evenclose;
using namespace evenclose::test;

namespace {

// A sanitizer takes its own time and memory besides, and so does counting which lines were run.
#ifdef NDEBUG
constexpr int kDearer = 1;
#else
constexpr int kDearer = 5;
#endif

std::vector<std::string> told(const std::filesystem::path& file) {
    const std::clock_t began = std::clock(); // of this process: others may keep the machine busy
    std::vector<std::string> sentences;
    for (const DocumentFault& fault : read_setup(file).faults) {
        sentences.push_back(fault.sentence());
        CHECK(sentences.back().find('\n') == std::string::npos);
    }
    CHECK((std::clock() - began) / CLOCKS_PER_SEC < 10 * kDearer);
    return sentences;
}

bool has(const std::vector<std::string>& sentences, std::string_view part) {
    for (const std::string& sentence : sentences) {
        if (sentence.find(part) != std::string::npos) {
            return true;
        }
    }
    for (const std::string& sentence : sentences) {
        MESSAGE(sentence.substr(0, 500));
    }
    return false;
}

std::string times(std::string_view text, std::size_t count) {
    std::string result;
    result.reserve(text.size() * count);
    for (std::size_t i = 0; i < count; ++i) {
        result += text;
    }
    return result;
}

const std::string kBegin = R"({ "evenclose": "set-up", "version": 1, "name": "x", "press": "x.press.json", )";
std::string opening(const std::string& mold) { return fmt::format(R"("openings": [ {{ "mold": "{}" }} ])", mold); }

} // namespace

TEST_CASE("hostile: a document of millions of values, keys or doubled keys is bounded in memory and time") {
    const TemporaryFolder folder;
    const double before_MB = peak_MB();
    const std::size_t room = kLargestDocument_bytes - 1000;
    const std::string too_many = "there are more than 200000 values; no document needs that";
    CHECK(has(told(folder.write("a.json", kBegin + "\"openings\": [" + times("0,", room / 2) + "0]}")), too_many));
    CHECK(has(told(folder.write("b.json", kBegin + "\"openings\": [" + times("[],", room / 3) + "0]}")), too_many));
    CHECK(has(told(folder.write("c.json", kBegin + "\"openings\": [" + times("{\"a\":0},", room / 8) + "0]}")),
              too_many));
    CHECK(has(told(folder.write("d.json", kBegin + times("\"a\":0,", room / 6) + "\"b\":0}")), "a: given twice"));
    std::string keys;
    for (int i = 0; i < 190'000; ++i) {
        keys += fmt::format("\"openingz{}\":0,", i);
    }
    const auto many_words = told(folder.write("e.json", kBegin + keys + "\"b\":0}"));
    CHECK(has(many_words, "no such word here"));
    CHECK(many_words.size() < 600);
    CHECK(has(told(folder.write("f.json", kBegin + "\"note\": \"" + times("x", room) + "\"}")), "openings: missing"));
    CHECK(has(told(folder.write("g.json", times("\n", room))),
              "has more than two million line ends and tabs; no document needs that"));
    CHECK(has(told(folder.write("g.json", "{" + times("\t", room) + "x")), "more than two million line ends and tabs"));
    CHECK(has(told(folder.write("h.json", kBegin + times("// x\n", 1'900'000))), "the file ends before"));
    // 100 MB of JSON: no more than the first 32 are looked at.
    CHECK(has(told(folder.write("i.json", kBegin + "\"openings\": [" + times("0, ", 33'000'000) + "0]}")),
              "is larger than 32 MB"));
    CHECK(peak_MB() - before_MB < 800 * kDearer); // 300 of it are this test's own texts
}

TEST_CASE("hostile: documents that name themselves or each other are of the wrong kind, and nothing goes round") {
    const TemporaryFolder folder;
    const auto self = folder.write("self.json", R"({ "evenclose": "set-up", "version": 1, "name": "x",
      "press": "self.json", "openings": [ { "mold": "self.json" } ] })");
    const auto sentences = told(self);
    CHECK(has(sentences, "a press document is wanted"));
    CHECK(has(sentences, "a mold document is wanted"));
    folder.write("round.mold.json",
                 R"({ "evenclose": "mold", "version": 1, "name": "x", "lower": { "mesh": "round.mold.json" },
      "upper": { "mesh": "again.json" }, "stack": { "plies": [ { "thickness": 1.5, "grain": "along" } ] } })");
    std::filesystem::create_symlink("again.json", folder.path() / "again.json");
    folder.write("x.press.json", kPressSample);
    const auto round = told(folder.write("y.json", kBegin + opening("round.mold.json") + "}"));
    CHECK(has(round, "is in no format that is read here"));
    CHECK(has(round, "upper.mesh"));
}

TEST_CASE("hostile: a document may name any plain file, by any path, and nothing else") {
    const TemporaryFolder folder;
    folder.write("x.press.json", kPressSample);
    REQUIRE(::mkfifo((folder.path() / "pipe").c_str(), 0600) == 0);
    const auto mold_of = [&](const std::string& lower) {
        folder.write("m.mold.json",
                     fmt::format(R"({{ "evenclose": "mold", "version": 1, "name": "x", "lower": {{ "mesh": "{}" }},
          "upper": {{ "block": [500, 200, 60] }}, "stack": {{ "plies": [ {{ "thickness": 1.5, "grain": "along" }} ] }} }})",
                                 lower));
        return told(folder.write("z.json", kBegin + opening("m.mold.json") + "}"));
    };
    for (const char* device : {"/dev/zero", "/dev/stdin", "pipe", "/proc/self/mem", "/dev/tty"}) {
        CAPTURE(device);
        CHECK_FALSE(mold_of(device).empty()); // and comes back
    }
    CHECK(has(mold_of("pipe"), "is no plain file"));
    CHECK(has(mold_of("."), "is a folder, not a mesh file"));
    CHECK(has(mold_of("/etc/passwd"), "is in no format that is read here"));
    CHECK(has(mold_of("../../../../../../nowhere.stl"), "names no file that is there"));
    // A zero byte would end the name early: another file than the one that is read aloud.
    CHECK(has(mold_of("m.stl\\u0000.json"), "lower.mesh"));
    CHECK(has(mold_of(times("x", 300)), "names no file that is there"));
    CHECK(has(mold_of(times("a/", 100'000)), "names no file that is there"));
    CHECK(has(told(folder.write("z.json", kBegin + opening("/dev/zero") + "}")), "is a device or pipe, no file"));
    CHECK(has(told(folder.write("z.json", kBegin + opening("pipe") + "}")), "is a device or pipe, no file"));
    // Sibling folders are a shop's own way of keeping meshes.
    std::filesystem::create_directories(folder.path() / "meshes");
    std::filesystem::create_directories(folder.path() / "sets");
    folder.write("meshes/bad.stl", "solid x\nendsolid x\n");
    folder.write("x.mold.json", "");
    CHECK(has(mold_of("sets/../meshes/bad.stl"), "has no triangles"));
}

TEST_CASE("hostile: numbers and letters that are none") {
    const TemporaryFolder folder;
    folder.write("x.press.json", kPressSample);
    const auto of = [&](const std::string& rest) { return told(folder.write("n.json", kBegin + rest)); };
    for (const char* number : {"NaN", "Infinity", "-Infinity", "0x10", "1e", "+1", ".5", "01"}) {
        CAPTURE(number);
        const auto sentences = of(fmt::format("\"closing_force\": {} }}", number));
        REQUIRE(sentences.size() == 1); // no JSON: one fault with its place
        CHECK(sentences[0].find("line 1, column ") != std::string::npos);
    }
    for (const char* number : {"1e999", "-1e999", "\"nan\"", "\"inf N\"", "\"1e400 kN\"", "-0.0", "1e-400"}) {
        CAPTURE(number);
        CHECK(has(of(fmt::format("\"closing_force\": {} }}", number)), "closing_force"));
    }
    CHECK(has(of("\"note\": \"\xC3\x28\" }"), "a byte that is not UTF-8 stands here; save the file as UTF-8"));
    CHECK(has(of("\"note\": \"\xED\xA0\x80\" }"), "a byte that is not UTF-8 stands here"));
    CHECK(has(of("\"note\": \"\\ud800\" }"), "line 1, column "));
    CHECK(has(told(folder.write("n.json", "\xEF\xBB\xBF" + kBegin + "\"shop\": 7 }")), "shop")); // a mark is no fault
    CHECK(has(told(folder.write("n.json", "\xFF\xFE{")), "is text in UTF-16; save it as UTF-8"));
    CHECK(has(told(folder.write("n.json", std::string("{\0}", 3))), "has zero bytes in it"));
    CHECK(has(of("\"openings\": " + times("[", 40) + times("]", 40) + " }"), "brackets are nested more than 32 deep"));
    CHECK(has(told(folder.write("n.json", times("[", 1'000'000))), "brackets are nested more than 32 deep"));
    CHECK(has(told(folder.write("n.json", times("{\"a\":", 1'000'000))), "brackets are nested more than 32 deep"));
}
