// Files that change on the disk: which are watched, when a change is told, and that none is missed.
#include "viewer/app/file_watch.hpp"

#include "tests/scene/documents/temporary_folder.hpp"

#include <doctest/doctest.h>

#include <atomic>
#include <cstdlib>
#include <fstream>
#include <random>
#include <thread>
#include <utility>

using namespace evenclose;
using namespace evenclose::test;
using namespace std::chrono_literals;

namespace fs = std::filesystem;

namespace {

void write(const fs::path& file, const std::string& text) { std::ofstream(file, std::ios::binary) << text; }

void write_over(const fs::path& file, const std::string& text) {
    const fs::path fresh = file.string() + ".new";
    write(fresh, text);
    fs::rename(fresh, file);
}

std::size_t descriptors() {
    return static_cast<std::size_t>(std::distance(fs::directory_iterator("/proc/self/fd"), fs::directory_iterator()));
}

constexpr FileWatch::Pace kQuick{150ms, 600ms, 15s, 300ms};

struct Watched {
    std::atomic<int> woken{0};
    FileWatch watch{[this] { ++woken; }, kQuick};
    fs::path file;
    explicit Watched(const fs::path& folder) : file(folder / "mold.json") {
        write(file, "first");
        again("first");
    }
    void again(const std::string& known) {
        watch.watch({{file, stamp_of(file)}}, {{document_id(file), std::make_shared<const std::string>(known)}});
    }
    /// What is told within the time, put together.
    std::vector<ChangedFile> told(std::chrono::milliseconds patience = 3000ms, std::size_t least = 1) {
        std::vector<ChangedFile> all;
        const auto until = std::chrono::steady_clock::now() + patience;
        while (all.size() < least && std::chrono::steady_clock::now() < until) {
            for (ChangedFile& changed : watch.take()) {
                all.push_back(std::move(changed));
            }
            std::this_thread::sleep_for(2ms);
        }
        return all;
    }
};

} // namespace

TEST_CASE("a file that is written anew, renamed over, taken away and put back is told each time, once") {
    TemporaryFolder folder;
    Watched it(folder.path());
    CHECK(it.told(250ms).empty());
    CHECK(it.woken == 0);
    write(it.file, "second");
    auto told = it.told();
    REQUIRE(told.size() == 1);
    CHECK(told[0].file == it.file);
    CHECK(told[0].document);
    CHECK(*told[0].text == "second");
    CHECK(it.woken == 1);
    CHECK(it.told(250ms).empty());
    write_over(it.file, "third");
    told = it.told();
    REQUIRE(told.size() == 1);
    CHECK(*told[0].text == "third");
    fs::remove(it.file);
    told = it.told();
    REQUIRE(told.size() == 1);
    CHECK(told[0].text == nullptr);
    write(it.file, "fourth");
    told = it.told();
    REQUIRE(told.size() == 1);
    CHECK(*told[0].text == "fourth");
    // The text that is known already is no change, whatever the time of writing.
    it.again("fourth");
    write(it.file, "fourth");
    CHECK(it.told(300ms).empty());
    // And as long as it is not known it is told, though the file was that way when the watch began.
    write(it.file, "fifth");
    CHECK(it.told().size() == 1);
}

TEST_CASE("a file that is written again and again before anybody asks is told once, as it is now") {
    TemporaryFolder folder;
    Watched it(folder.path());
    for (const char* text : {"second", "third", "fourth"}) {
        const int woken = it.woken;
        write(it.file, text);
        for (int tries = 0; tries < 1000 && it.woken == woken; ++tries) {
            std::this_thread::sleep_for(5ms);
        }
        CHECK(it.woken == woken + 1);
    }
    const auto told = it.watch.take();
    REQUIRE(told.size() == 1);
    CHECK(*told[0].text == "fourth");
}

TEST_CASE("a file that is still being written is told when it stands still, and not before") {
    TemporaryFolder folder;
    Watched it(folder.path());
    {
        std::ofstream out(it.file, std::ios::binary);
        for (int i = 0; i < 20; ++i) {
            out << i << std::flush;
            CHECK(it.watch.take().empty());
            std::this_thread::sleep_for(20ms);
        }
        std::this_thread::sleep_for(400ms); // a writer that rests is not one that is done
        CHECK(it.watch.take().empty());
    }
    const auto told = it.told();
    REQUIRE(told.size() == 1);
    CHECK(told[0].text->ends_with("1819"));
    // Renamed away and back in place within a moment is one change.
    fs::rename(it.file, it.file.string() + "~");
    std::this_thread::sleep_for(30ms);
    write(it.file, "whole");
    const auto again = it.told(1500ms, 2);
    REQUIRE(again.size() == 1);
    CHECK(*again[0].text == "whole");
}

TEST_CASE("what a link leads to, a link that is laid anew and a folder that is made anew are seen") {
    TemporaryFolder folder;
    fs::create_directory(folder.path() / "far");
    fs::create_directory(folder.path() / "near");
    write(folder.path() / "far" / "a", "a");
    write(folder.path() / "far" / "b", "bb");
    const fs::path link = folder.path() / "near" / "mesh.stl";
    fs::create_symlink(folder.path() / "far" / "a", link);
    std::atomic<int> woken{0};
    FileWatch watch([&] { ++woken; }, kQuick);
    const auto wait_for = [&](int count) {
        for (int i = 0; i < 1500 && woken < count; ++i) {
            std::this_thread::sleep_for(2ms);
        }
        return woken.load();
    };
    watch.watch({{link, stamp_of(link)}}, {});
    for (int i = 0; i < 1000 && watch.folders() < 2; ++i) {
        std::this_thread::sleep_for(2ms);
    }
    CHECK(watch.folders() == 2);
    write(folder.path() / "far" / "a", "aaa");
    CHECK(wait_for(1) == 1);
    fs::create_symlink(folder.path() / "far" / "b", link.string() + ".new");
    fs::rename(link.string() + ".new", link);
    CHECK(wait_for(2) == 2);
    fs::remove_all(folder.path() / "near");
    CHECK(wait_for(3) == 3);
    fs::create_directory(folder.path() / "near");
    write(link, "whole");
    CHECK(wait_for(4) == 4); // by a look: nobody listens at the new folder at first
    const auto told = watch.take();
    REQUIRE(!told.empty());
    CHECK(!told.back().document);
}

TEST_CASE("of many rewritings the last one is never missed, and no descriptor stays behind") {
    TemporaryFolder folder;
    const std::size_t before = descriptors();
    {
        Watched it(folder.path());
        std::mt19937 random(20261201);
        const int rounds = std::getenv("EVENCLOSE_LONG") != nullptr ? 400 : 20;
        std::string last;
        std::size_t listening = 0;
        for (int round = 0; round < rounds; ++round) {
            CAPTURE(round);
            const int writes = 1 + static_cast<int>(random() % 8);
            for (int i = 0; i < writes; ++i) {
                last = std::to_string(round) + "." + std::to_string(i); // often of the same length
                random() % 2 == 0 ? write(it.file, last) : write_over(it.file, last);
                std::this_thread::sleep_for(std::chrono::microseconds(random() % 40'000));
            }
            std::string seen;
            for (int i = 0; i < 2000 && seen != last; ++i) {
                for (const ChangedFile& changed : it.watch.take()) {
                    seen = changed.text ? *changed.text : "";
                }
                std::this_thread::sleep_for(1ms);
            }
            CHECK(seen == last);
            it.again(last);
            if (round == 0) {
                listening = descriptors();
            }
        }
        CHECK(descriptors() == listening);
        CHECK(it.watch.folders() == 1);
    }
    CHECK(descriptors() == before);
}

TEST_CASE("a change between a reading's stamp and the watch is told: nothing falls between the two") {
    TemporaryFolder folder;
    const fs::path file = folder.path() / "box.set-up.json";
    write(file, "{ \"press\": \"box.press.json\" }");
    for (int i = 0; i < 20; ++i) {
        const StampedTexts read = stamped_texts(file, {});
        const std::string text = "{ \"press\": \"bo" + std::to_string(i % 10) + ".press.json\" }"; // same length
        write(file, text);
        FileWatch watch([] {}, kQuick);
        watch.watch(read.stamps, read.texts);
        bool told = false;
        for (int wait = 0; wait < 1500 && !told; ++wait) {
            for (const ChangedFile& changed : watch.take()) {
                told = told || (changed.text && *changed.text == text);
            }
            std::this_thread::sleep_for(2ms);
        }
        CHECK(told);
    }
}

TEST_CASE("all that a set-up hangs on is watched: press, molds, meshes, drawing and readings, also what is not there") {
    TemporaryFolder folder;
    const fs::path& at = folder.path();
    fs::create_directory(at / "molds");
    write(at / "a.set-up.json", "{ \"press\": \"a.press.json\", \"openings\": [ { \"mold\": \"molds/a.mold.json\" } ], "
                                "\"costs\": { \"press\": \"no file\" } }");
    write(at / "a.press.json", "{ \"measured_heights\": { \"file\": \"heights.csv\" }, \"members\": [ { \"mesh\": "
                               "\"casting.stl\" } ] }");
    write(at / "molds/a.mold.json",
          "{ \"lower\": { \"mesh\": \"../lower.stl\" }, \"upper\": { \"mesh\": \"upper.stl\" }, "
          "\"deck_outline\": { \"file\": \"deck.dxf\" } }");
    const StampedTexts read = stamped_texts(at / "molds/../a.set-up.json", {});
    std::set<fs::path> files;
    for (const auto& [file, stamp] : read.stamps) {
        files.insert(file);
        CHECK(stamp.there == fs::exists(file));
    }
    CHECK(files == std::set<fs::path>{at / "a.set-up.json", at / "a.press.json", at / "heights.csv", at / "casting.stl",
                                      at / "molds/a.mold.json", at / "lower.stl", at / "molds/upper.stl",
                                      at / "molds/deck.dxf"});
    CHECK(read.texts.size() == 3);
    CHECK(files_behind(at / "none.json", {}) == std::set<fs::path>{at / "none.json"});
}
