#include "viewer/app/background_jobs.hpp"

#include <doctest/doctest.h>

#include <atomic>
#include <stdexcept>
#include <thread>

using namespace evenclose;
using namespace std::chrono_literals;

namespace {

/// What is handed over until nothing runs any more, or five seconds are gone.
std::vector<Intent> all_of(BackgroundJobs& jobs) {
    std::vector<Intent> taken;
    const auto patience = std::chrono::steady_clock::now() + 5s;
    while (std::chrono::steady_clock::now() < patience) {
        const bool busy = jobs.busy();
        for (Intent& intent : jobs.take()) {
            taken.push_back(std::move(intent));
        }
        if (!busy) {
            break;
        }
        std::this_thread::sleep_for(1ms);
    }
    return taken;
}

void run_until_cancelled(Progress& progress) {
    while (!progress.cancelled()) {
        std::this_thread::sleep_for(1ms);
    }
}

} // namespace

TEST_CASE("what a job hands over comes in order, and the window is woken for it") {
    std::atomic<int> woken{0};
    BackgroundJobs jobs([&] { ++woken; });
    jobs.start(1, [](Progress& progress, const BackgroundJobs::HandOver& hand_over) {
        for (double mm : {1.0, 2.0, 3.0}) {
            progress.tell(mm / 3.0);
            hand_over(SetTravel{{mm}});
        }
    });
    const auto taken = all_of(jobs);
    REQUIRE(taken.size() == 3);
    CHECK(std::get<SetTravel>(taken[0]).to.mm == 1.0);
    CHECK(std::get<SetTravel>(taken[2]).to.mm == 3.0);
    CHECK(woken >= 3);
    CHECK(!jobs.busy());
}

TEST_CASE("a newer job cancels the older, of several waiting only the newest runs, the older's news does not come") {
    BackgroundJobs jobs([] {});
    std::atomic<bool> first_runs{false};
    std::atomic<int> others{0};
    jobs.start(1, [&](Progress& progress, const BackgroundJobs::HandOver& hand_over) {
        hand_over(SetTravel{{1.0}}); // not taken before the next job starts
        first_runs = true;
        run_until_cancelled(progress);
        hand_over(SetTravel{{1.5}});
    });
    while (!first_runs) {
        std::this_thread::sleep_for(1ms);
    }
    for (Generation later = 2; later < 20; ++later) {
        jobs.start(later, [&, later](Progress&, const BackgroundJobs::HandOver& hand_over) {
            ++others;
            hand_over(SetTravel{{static_cast<double>(later)}});
        });
    }
    const auto taken = all_of(jobs);
    // The first stops in its own time; a few of the later may have begun in between, the last one always.
    REQUIRE(!taken.empty());
    CHECK(std::get<SetTravel>(taken.back()).to.mm == 19.0);
    for (const Intent& intent : taken) {
        CHECK(std::get<SetTravel>(intent).to.mm >= 2.0);
    }
}

TEST_CASE("what a job throws is told, and the next job runs all the same") {
    BackgroundJobs jobs([] {});
    jobs.start(7, [](Progress&, const BackgroundJobs::HandOver&) { throw std::runtime_error("the disk is full"); });
    auto taken = all_of(jobs);
    REQUIRE(taken.size() == 1);
    CHECK(std::get<JobFailed>(taken[0]).generation == 7);
    CHECK(std::get<JobFailed>(taken[0]).why == "the disk is full");
    jobs.start(8, [](Progress&, const BackgroundJobs::HandOver& hand_over) { hand_over(Quit{}); });
    taken = all_of(jobs);
    REQUIRE(taken.size() == 1);
    CHECK(std::holds_alternative<Quit>(taken[0]));
}

TEST_CASE("winding up ends a job that listens within a tenth of a second, and says so of one that does not") {
    {
        BackgroundJobs jobs([] {});
        std::atomic<bool> runs{false};
        jobs.start(1, [&](Progress& progress, const BackgroundJobs::HandOver&) {
            runs = true;
            run_until_cancelled(progress);
        });
        while (!runs) {
            std::this_thread::sleep_for(1ms);
        }
        CHECK(jobs.wind_up(2s)); // generous: the machine may be busy
        CHECK(!jobs.busy());
    }
    std::atomic<bool> let_go{false};
    std::atomic<bool> runs{false};
    BackgroundJobs jobs([] {});
    jobs.start(1, [&](Progress&, const BackgroundJobs::HandOver&) {
        runs = true;
        while (!let_go) {
            std::this_thread::sleep_for(1ms);
        }
    });
    while (!runs) {
        std::this_thread::sleep_for(1ms);
    }
    CHECK(!jobs.wind_up(20ms));
    let_go = true;
}

TEST_CASE("progress is that of the running job") {
    BackgroundJobs jobs([] {});
    CHECK(jobs.fraction() == 0.0);
    std::atomic<bool> told{false};
    jobs.start(1, [&](Progress& progress, const BackgroundJobs::HandOver&) {
        progress.tell(0.4);
        progress.tell(0.3);
        told = true;
        run_until_cancelled(progress);
    });
    while (!told) {
        std::this_thread::sleep_for(1ms);
    }
    CHECK(jobs.fraction() == 0.4);
    jobs.cancel();
    CHECK(all_of(jobs).empty());
    CHECK(jobs.fraction() == 0.0);
}
