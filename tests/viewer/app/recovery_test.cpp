#include "viewer/app/recovery.hpp"

#include "scene/documents/atomic_write.hpp"
#include "scene/documents/document_text.hpp"
#include "tests/scene/documents/temporary_folder.hpp"
#include "viewer/app/recent_setups.hpp"
#include "viewer/app/save_documents.hpp"

#include <doctest/doctest.h>

#include <sys/mman.h>
#include <sys/wait.h>
#include <unistd.h>

#include <atomic>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <random>
#include <thread>

using namespace evenclose;
using namespace evenclose::test;

namespace fs = std::filesystem;

namespace {

SharedText shared(std::string text) { return std::make_shared<const std::string>(std::move(text)); }

KeptWork some_work() {
    KeptWork work;
    work.setup = "/shop/oak.set-up.json";
    work.texts["/shop/oak.press.json"] = shared("{ // caf\xE9\r\n \"a\": 1 }\n");
    work.texts["/shop/odd \n name.json"] = shared("");
    work.saved["/shop/oak.press.json"] = shared("{}");
    return work;
}

} // namespace

TEST_CASE("kept work reads back as it was, bytes that are no UTF-8 too, half of it is refused") {
    const std::string bytes = kept_bytes(some_work());
    const auto back = read_kept(bytes);
    REQUIRE(back);
    CHECK(back->setup == some_work().setup);
    REQUIRE(back->texts.size() == 2);
    for (const auto& [file, text] : some_work().texts) {
        CHECK(*back->texts.at(file) == *text);
    }
    CHECK(*back->saved.at("/shop/oak.press.json") == "{}");
    for (std::size_t length = 0; length < bytes.size(); ++length) {
        CHECK(!read_kept(std::string_view(bytes).substr(0, length)));
    }
    CHECK(!read_kept(bytes + "x"));
    CHECK(!read_kept("evenclose kept work 1\nsetup 99999999999999999999\n"));
    CHECK(!read_kept("evenclose kept work 1\nsetup 18446744073709551615\nx\nend\n"));
}

TEST_CASE("unsaved work of a window that was stopped is offered, that of a living or well ended one is not") {
    const TemporaryFolder folder;
    const fs::path state = folder.path();
    {
        Recovery living{state};
        CHECK(!living.keep(some_work()));
        Recovery other{state};
        CHECK(other.left_behind().empty());
        living.says_open({"/shop/oak.press.json"});
        CHECK(other.open_elsewhere({"/shop/oak.press.json", "/shop/b.json"}) ==
              std::vector<fs::path>{"/shop/oak.press.json"});
        CHECK(living.open_elsewhere({"/shop/oak.press.json"}).empty());
        other.end();
    } // living is left as by a kill
    Recovery next{state};
    std::vector<LeftBehind> left = next.left_behind();
    REQUIRE(left.size() == 1);
    CHECK(*left[0].work.texts.at("/shop/oak.press.json") == *some_work().texts.at("/shop/oak.press.json"));
    CHECK(next.open_elsewhere({"/shop/oak.press.json"}).empty()); // its window is gone
    CHECK(!next.keep(some_work()));
    CHECK(next.left_behind().size() == 1); // its own is not offered
    next.discard(left[0]);
    CHECK(next.left_behind().empty());
    CHECK(!next.keep({}));
    next.end();
    CHECK(fs::is_empty(state));
    {
        Recovery nowhere{fs::path{}};
        CHECK(!nowhere.keep(some_work()));
        CHECK(nowhere.left_behind().empty());
    }
    folder.write("window-1-0.lock", "");
    folder.write("window-1-0.work", "rubbish");
    Recovery wary{state};
    CHECK(wary.left_behind().empty());
    CHECK(fs::exists(state / "window-1-0.work")); // left alone
    wary.end();
}

TEST_CASE("set-ups that were open last come first, each once, those that are gone not at all") {
    const TemporaryFolder folder;
    const TemporaryFolder shop;
    for (int i = 0; i < 12; ++i) {
        remember_setup(folder.path(), shop.write(std::to_string(i) + ".json", "{}").string());
    }
    remember_setup(folder.path(), (shop.path() / "9.json").string());
    std::vector<std::string> recent = recent_setups(folder.path());
    REQUIRE(recent.size() == kMostRecent);
    CHECK(recent[0] == (shop.path() / "9.json").string());
    CHECK(recent[1] == (shop.path() / "11.json").string());
    CHECK(recent[2] == (shop.path() / "10.json").string());
    CHECK(recent[3] == (shop.path() / "8.json").string());
    fs::remove(shop.path() / "11.json");
    CHECK(recent_setups(folder.path()).size() == kMostRecent - 1);
    CHECK(recent_setups({}).empty());
}

// A child edits, keeps and saves as the window does; it is killed at any moment, as the power or a bug would.
// EVENCLOSE_KILLS: how many times (1000 in a long run).
TEST_CASE("killed at any moment: no document is half written, and of the work at most five seconds are lost") {
    // What child and parent share: how far the work was when it was stopped.
    struct Log {
        std::atomic<long> edits{0};
    };
    void* const page = ::mmap(nullptr, sizeof(Log), PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
    REQUIRE(page != MAP_FAILED);
    auto* const log = new (page) Log;
    // One edit each tenth of a second of the child's own clock, so that the answer hangs on no machine's speed.
    constexpr double kEdit_s = 0.1;
    const char* asked = std::getenv("EVENCLOSE_KILLS");
    const int kills = asked != nullptr ? std::atoi(asked) : 200;
    std::mt19937 random(1130);
    long done = 0;
    long most_lost = 0;
    int taken_up = 0;
    const std::string long_tail(20'000, 'x'); // so that a write takes more than one block
    const auto document = [&](long counter) {
        return "{ \"a\": " + std::to_string(counter) + ", \"note\": \"" + long_tail +
               "\", \"b\": " + std::to_string(counter) + " }";
    };
    const auto counter_of = [&](const std::string& text) -> long { // -1: half written, or of two states
        for (const char* key : {"a", "b"}) {
            auto parsed = DocumentText::parse(text, "");
            if (!std::holds_alternative<DocumentText>(parsed)) {
                return -1;
            }
            const auto typed = std::get<DocumentText>(parsed).typed_at(key);
            if (!typed || document(std::stol(std::string(*typed))) != text) {
                return -1;
            }
        }
        return std::stol(text.substr(text.find(':') + 1));
    };
    for (int kill = 0; kill < kills; ++kill) {
        CAPTURE(kill);
        const TemporaryFolder shop;
        const TemporaryFolder state;
        const fs::path file = document_id(shop.write("a.press.json", document(0)));
        log->edits = 0;
        const pid_t child = ::fork();
        REQUIRE(child >= 0);
        if (child == 0) {
            Recovery recovery{state.path()};
            EditedDocuments documents;
            documents.setup = file;
            take_up(documents, {{file, shared(document(0))}});
            double kept_at_s = 0;
            for (long i = 1;; ++i) {
                documents.texts[file] = shared(document(i));
                log->edits = i;
                const double now_s = kEdit_s * static_cast<double>(i);
                if (i % 37 == 0) {
                    note_saved(documents, save_documents(documents, false).written);
                    static_cast<void>(recovery.keep({documents.setup, documents.unsaved_texts(), {}}));
                    kept_at_s = now_s;
                } else if (now_s - kept_at_s >= kAutosave_s) {
                    static_cast<void>(recovery.keep({documents.setup, documents.unsaved_texts(), documents.saved}));
                    kept_at_s = now_s;
                }
            }
        }
        std::this_thread::sleep_for(std::chrono::microseconds(500 + random() % 30'000));
        REQUIRE(::kill(child, SIGKILL) == 0);
        int status = 0;
        REQUIRE(::waitpid(child, &status, 0) == child);
        REQUIRE(WIFSIGNALED(status));

        const long at_kill = log->edits;
        long best = counter_of(bytes_of(file));
        REQUIRE(best >= 0);
        Recovery recovery{state.path()};
        for (const LeftBehind& left : recovery.left_behind()) {
            const long kept = counter_of(*left.work.texts.at(file));
            REQUIRE(kept >= 0);
            best = std::max(best, kept);
            ++taken_up;
        }
        REQUIRE(best <= at_kill);
        most_lost = std::max(most_lost, at_kill - best);
        done += at_kill;
    }
    ::munmap(page, sizeof(Log));
    MESSAGE(kills, " kills amid ", done, " edits: at most ", kEdit_s * static_cast<double>(most_lost),
            " s of work lost; ", taken_up, " times there was unsaved work to take up");
    CHECK(kEdit_s * static_cast<double>(most_lost) <= kMostLost_s);
    CHECK(done > 10L * kills);
    CHECK(taken_up > kills / 20);
}
