#include "viewer/app/background_jobs.hpp"
#include "viewer/app/fault_words.hpp"

#include <doctest/doctest.h>

#include <atomic>
#include <functional>
#include <new>
#include <stdexcept>
#include <thread>

using namespace evenclose;
using namespace std::chrono_literals;

namespace {

using Work = std::function<void(Progress&, const BackgroundJobs::HandOver&)>;

void start(BackgroundJobs& jobs, Generation generation, Work work) {
    jobs.start({std::move(work), [generation](const std::string& why) { return JobFailed{generation, why}; }});
}

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
    start(jobs, 1, [](Progress& progress, const BackgroundJobs::HandOver& hand_over) {
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
    start(jobs, 1, [&](Progress& progress, const BackgroundJobs::HandOver& hand_over) {
        hand_over(SetTravel{{1.0}}); // not taken before the next job starts
        first_runs = true;
        run_until_cancelled(progress);
        hand_over(SetTravel{{1.5}});
    });
    while (!first_runs) {
        std::this_thread::sleep_for(1ms);
    }
    for (Generation later = 2; later < 20; ++later) {
        start(jobs, later, [&, later](Progress&, const BackgroundJobs::HandOver& hand_over) {
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
    start(jobs, 7, [](Progress&, const BackgroundJobs::HandOver&) { throw std::runtime_error("the disk is full"); });
    auto taken = all_of(jobs);
    REQUIRE(taken.size() == 1);
    CHECK(std::get<JobFailed>(taken[0]).generation == 7);
    CHECK(std::get<JobFailed>(taken[0]).why == "the disk is full");
    start(jobs, 8, [](Progress&, const BackgroundJobs::HandOver& hand_over) { hand_over(Quit{}); });
    taken = all_of(jobs);
    REQUIRE(taken.size() == 1);
    CHECK(std::holds_alternative<Quit>(taken[0]));
}

TEST_CASE("a job that ran out of memory says what helps, also where there is none for the words at first") {
    BackgroundJobs jobs([] {});
    std::atomic<int> tried{0};
    jobs.start({[](Progress&, const BackgroundJobs::HandOver&) { throw std::bad_alloc(); },
                [&](const std::string& why) -> Intent {
                    if (++tried < 3) {
                        throw std::bad_alloc();
                    }
                    return JobFailed{3, why};
                }});
    const auto taken = all_of(jobs);
    REQUIRE(taken.size() == 1);
    CHECK(std::get<JobFailed>(taken[0]).why == kNoMemory);
    CHECK(tried == 3);
}

TEST_CASE("a job that cannot say what went wrong is left alone once it is cancelled") {
    BackgroundJobs jobs([] {});
    std::atomic<bool> tried{false};
    jobs.start({[](Progress&, const BackgroundJobs::HandOver&) { throw std::bad_alloc(); },
                [&](const std::string&) -> Intent {
                    tried = true;
                    throw std::bad_alloc();
                }});
    while (!tried) {
        std::this_thread::sleep_for(1ms);
    }
    CHECK(jobs.wind_up(2s));
    CHECK(all_of(jobs).empty());
}

TEST_CASE("winding up ends a job that listens within a tenth of a second, and says so of one that does not") {
    {
        BackgroundJobs jobs([] {});
        std::atomic<bool> runs{false};
        start(jobs, 1, [&](Progress& progress, const BackgroundJobs::HandOver&) {
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
    start(jobs, 1, [&](Progress&, const BackgroundJobs::HandOver&) {
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
    start(jobs, 1, [&](Progress& progress, const BackgroundJobs::HandOver&) {
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
