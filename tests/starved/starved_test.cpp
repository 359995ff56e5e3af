// Memory runs out at any moment of reading, checking, saving, reporting: it is told, nothing is half done, and the next time it
// works.
#include "checks/check_list.hpp"
#include "scene/documents/documents.hpp"
#include "tests/file_bytes.hpp"
#include "tests/scene/mesh/mesh_files.hpp"
#include "tests/starved/starving.hpp"
#include "tests/viewer/ran.hpp"
#include "tests/viewer/window/shop_files.hpp"
#include "viewer/app/fault_words.hpp"
#include "viewer/app/load_and_check.hpp"
#include "viewer/app/save_documents.hpp"
#include "viewer/report/write_report.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <functional>
#include <new>
#include <optional>
#include <random>
#include <string>
#include <thread>
#include <vector>

using namespace evenclose;
using namespace evenclose::test;
using namespace std::chrono_literals;

namespace fs = std::filesystem;

namespace {

/// Runs `work` once to count, then again and again with memory that runs out: in its first steps, and at random after.
/// `work` lets std::bad_alloc out; `between` looks at what it left, with memory enough. Gives how many times it was let out.
int starve(
    int few, const std::function<void()>& work, const std::function<void()>& between = [] {}) {
    const int times = std::getenv("EVENCLOSE_LONG") != nullptr ? 20 * few : few;
    work(); // what is made once and kept
    between();
    std::size_t all = 0;
    {
        const Starving counts(Starving::How::counts, 0);
        work();
        all = Starving::asked_for();
    }
    between();
    REQUIRE(all > 0);
    std::mt19937 random(20261201);
    int failed = 0;
    for (int i = 0; i < times; ++i) {
        const std::size_t number = i < times / 4 ? static_cast<std::size_t>(i / 2) : random() % all;
        const auto how = i % 2 == 0 ? Starving::How::once : Starving::How::lasting;
        CAPTURE(number);
        CAPTURE(i % 2);
        try {
            const Starving starving(how, number);
            work();
        } catch (const std::bad_alloc&) {
            ++failed;
        }
        between();
    }
    work();
    MESSAGE(all << " allocations, " << times << " times one or all from there on failed, let out " << failed
                << " times");
    return failed;
}

std::vector<std::string> sentences(const CheckResults& results) {
    std::vector<std::string> all;
    for (const Finding& finding : results.findings) {
        all.push_back(fmt::format("{}: {} {} {}", finding.check, finding.title, finding.why, finding.remedy));
    }
    return all;
}

} // namespace

TEST_CASE("starved: documents and meshes are read whole, or it is told") {
    const Folder plain;
    const Folder meshes;
    for (const std::string& file :
         {write_shop_files(plain.path(), ShopFault::none), write_long_check(meshes.path(), 400)}) {
        const int failed = starve(200, [&] {
            const Loaded<Setup> loaded = read_setup(file);
            // A mesh that was not read for want of memory is a fault of its own.
            CHECK(loaded.value.has_value() == loaded.faults.empty());
            if (loaded.value) {
                CHECK(loaded.value->openings.size() == 1);
            }
        });
        CHECK(failed > 20);
    }
}

TEST_CASE("starved: checks say all they have to say, or nothing") {
    const Folder plain;
    const Folder meshes;
    for (const std::string& file :
         {write_shop_files(plain.path(), ShopFault::stray_bolt), write_long_check(meshes.path(), 200)}) {
        const Loaded<Setup> loaded = read_setup(file);
        REQUIRE(loaded.value);
        const Assembly assembly = assemble(*loaded.value);
        CheckRequest request;
        request.jobs = 2;
        Progress calm;
        const std::vector<std::string> wanted = sentences(run_checks(*loaded.value, assembly, request, calm));
        const int failed = starve(40, [&] {
            Progress progress;
            const CheckResults results = run_checks(*loaded.value, assembly, request, progress);
            CHECK(sentences(results) == wanted);
        });
        CHECK(failed > 20);
    }
}

TEST_CASE("starved: the command line says what helps and ends with 2, or does as ever") {
    const Folder folder;
    const std::string file = write_shop_files(folder.path(), ShopFault::stray_bolt);
    const Ran calm = ran({"check", file});
    REQUIRE(calm.exit == 1);
    int told = 0;
    starve(60, [&] {
        const Ran starved = ran({"check", file});
        if (starved.exit == 2) {
            told += starved.err.find(kNoMemory) != std::string::npos ? 1 : 0;
        } else {
            CHECK(starved.exit == calm.exit);
            CHECK(starved.out == calm.out);
        }
    });
    CHECK(told > 20);
}

TEST_CASE("starved: a document is saved whole or stays as it was, and an edit is there or is not") {
    const Folder folder;
    const std::string file = write_shop_files(folder.path(), ShopFault::none);
    const fs::path press = document_id(folder.path() / "box.press.json");
    const std::string before = bytes_of(press);
    const auto read = [&] {
        EditedDocuments documents;
        documents.setup = document_id(file);
        documents.saved[press] = std::make_shared<const std::string>(bytes_of(press));
        documents.texts = documents.saved;
        return documents;
    };
    EditedDocuments calm = read();
    REQUIRE_FALSE(edit(calm, {{press, DocumentEdit::What::set, "head.underside", "490"}}, "higher"));
    const std::string after = *calm.texts[press];
    REQUIRE(after != before);
    const int failed = starve(
        200,
        [&] {
            EditedDocuments documents = read();
            if (!edit(documents, {{press, DocumentEdit::What::set, "head.underside", "490"}}, "higher")) {
                (void)save_documents(documents, false);
            }
        },
        [&] {
            const std::string stands = bytes_of(press);
            CHECK((stands == before || stands == after));
            std::ofstream(press) << before;
        });
    CHECK(failed > 20);
    for (const auto& entry : fs::directory_iterator(folder.path())) {
        const std::string name = entry.path().filename().string();
        CAPTURE(name);
        CHECK((name.ends_with(".json") || name.ends_with(".json~"))); // no pieces are left lying about
    }
}

TEST_CASE("starved: a report comes out whole or not at all") {
    const Folder folder;
    const Loaded<Setup> loaded = read_setup(write_shop_files(folder.path(), ShopFault::stray_bolt));
    REQUIRE(loaded.value);
    const Assembly assembly = assemble(*loaded.value);
    Progress progress;
    const CheckResults results = run_checks(*loaded.value, assembly, {}, progress);
    ::setenv("SOURCE_DATE_EPOCH", "1764547200", 1); // its date
    for (const char* name : {"report.html", "report.pdf"}) {
        CAPTURE(name);
        const fs::path file = folder.path() / name;
        const ReportWanted wanted{file, UnitSystem::metric, false, Paper::a4};
        write_report(*loaded.value, assembly, results, loaded.notes, wanted);
        const std::string whole = bytes_of(file);
        const int failed = starve(
            120, [&] { write_report(*loaded.value, assembly, results, loaded.notes, wanted); },
            [&] {
                if (fs::exists(file)) {
                    CHECK(bytes_of(file) == whole);
                }
                fs::remove(file);
            });
        CHECK(failed > 20);
    }
}

TEST_CASE("starved: a job behind the window always ends with an answer") {
    const Folder folder;
    StartJob order;
    order.generation = 5;
    order.file = write_shop_files(folder.path(), ShopFault::none);
    std::size_t all = 0;
    const auto answer = [&](Starving::How how, std::size_t number) {
        BackgroundJobs jobs([] {});
        BackgroundJobs::Job job = check_job(order);
        std::optional<Intent> last;
        std::optional<Starving> starving(std::in_place, how, number);
        const auto until = std::chrono::steady_clock::now() + 60s;
        bool started = false;
        while (std::chrono::steady_clock::now() < until) {
            try {
                if (!started) {
                    jobs.start(job);
                    started = true;
                }
                const bool busy = jobs.busy();
                for (Intent& news : jobs.take()) {
                    last = std::move(news);
                }
                if (!busy) {
                    break;
                }
            } catch (const std::bad_alloc&) { // this thread's own; the window would end here, with words
            }
            if (std::chrono::steady_clock::now() > until - 59s) {
                starving.reset(); // others gave memory back
            }
            std::this_thread::sleep_for(1ms);
        }
        all = Starving::asked_for();
        return last;
    };
    REQUIRE(std::holds_alternative<Checked>(answer(Starving::How::counts, 0).value()));
    const std::size_t every = all;
    std::mt19937 random(7);
    int failed = 0;
    for (int i = 0; i < 30; ++i) {
        const std::size_t number = random() % every;
        CAPTURE(number);
        const std::optional<Intent> last = answer(i % 6 == 0 ? Starving::How::lasting : Starving::How::once, number);
        REQUIRE(last);
        if (const auto* words = std::get_if<JobFailed>(&*last)) {
            CHECK(words->why == kNoMemory);
            CHECK(words->generation == order.generation);
            ++failed;
        } else {
            CHECK((std::holds_alternative<Checked>(*last) || std::holds_alternative<SetupFaulty>(*last)));
        }
    }
    CHECK(failed > 10);
}
