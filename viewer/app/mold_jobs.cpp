#include "viewer/app/mold_jobs.hpp"

#include "scene/documents/documents.hpp"
#include "scene/documents/source_file.hpp"
#include "viewer/app/fault_words.hpp"
#include "viewer/app/mold_documents.hpp"
#include "viewer/app/mold_list.hpp"
#include "viewer/app/named_files.hpp"
#include "viewer/app/one_core_less.hpp"
#include "viewer/render/mold_picture.hpp"
#include "viewer/render/renderer.hpp"

#include <algorithm>
#include <chrono>
#include <exception>
#include <iterator>
#include <optional>
#include <system_error>
#include <thread>
#include <utility>

namespace evenclose {
namespace {

namespace fs = std::filesystem;
using Clock = std::chrono::steady_clock;
using std::chrono::milliseconds;

// The folder and what stands in it in folders of their own, as shops keep them: molds/curlew/print/. A home folder chosen by
// mistake is not read to its end.
constexpr MoldSearch kSearch{2, 500, 20'000};
// So often the folder is looked through again: a mold that was written shows while the hand goes back to the mouse.
constexpr milliseconds kAgain{1000};
constexpr milliseconds kHeedsCancel{50};

double seconds_since(Clock::time_point then) { return std::chrono::duration<double>(Clock::now() - then).count(); }

std::string plain_name(const fs::path& file) {
    const std::string name = file.filename().string();
    return name.substr(0, name.find('.'));
}

/// Its name and the files that it hangs on, as its text tells.
ListedMold listed(const fs::path& file) {
    ListedMold mold{file, plain_name(file), {}};
    mold.stamps[file] = stamp_of(file);
    const auto read = read_source_file(file);
    if (const auto* text = std::get_if<std::string>(&read)) {
        const SourceTree tree = read_source_tree(*text, "");
        if (tree.root) {
            const SourceValue* name = tree.root->find("name");
            if (name != nullptr && name->kind == SourceValue::Kind::text && !name->text.empty()) {
                mold.name = name->text;
            }
            for (const NamedFile& named : named_files(*tree.root)) {
                const fs::path whole = (file.parent_path() / named.written).lexically_normal();
                mold.stamps[whole] = stamp_of(whole);
            }
        }
    }
    return mold;
}

std::int64_t now_ns() {
    return std::chrono::duration_cast<std::chrono::nanoseconds>(std::chrono::system_clock::now().time_since_epoch())
        .count();
}

/// Reads molds and draws them, the ones in sight first.
class MoldDrawer {
public:
    MoldDrawer(const StartMoldLooks& order, const Palette& palette, Progress& progress,
               const BackgroundJobs::HandOver& hand_over)
        : order_(order), palette_(palette), progress_(progress), hand_over_(hand_over), known_(order.known) {}

    /// Which of these are still to be looked at.
    [[nodiscard]] std::vector<std::size_t> waiting(const std::vector<ListedMold>& molds) const {
        std::vector<std::size_t> waiting;
        for (std::size_t i = 0; i < molds.size() && order_.wish.width > 0; ++i) {
            const auto known = known_.find(molds[i].file);
            if (known == known_.end() || known->second != molds[i].stamps) {
                waiting.push_back(i);
            }
        }
        return waiting;
    }

    /// Until all are looked at, or `until`.
    void look(const std::vector<ListedMold>& molds, Clock::time_point until) {
        std::vector<std::size_t> left = waiting(molds);
        if (left.empty()) {
            return;
        }
        const auto goes_on = [&] { return !left.empty() && Clock::now() < until && !progress_.cancelled(); };
        std::optional<ListedMold> drawn; // the one whose picture comes next
        MoldLook look;
        // The next one that can be drawn; what cannot be read is told on the way.
        const auto next_frame = [&](std::size_t) {
            drawn.reset();
            while (!left.empty() && !progress_.cancelled()) {
                const std::size_t next = next_of(molds, left, order_.in_sight->get());
                std::erase(left, next);
                look = {};
                look.wish = order_.wish;
                if (std::optional<Frame> frame = read(molds[next], look)) {
                    drawn = molds[next];
                    return std::move(*frame);
                }
                tell(molds[next], look);
            }
            return Frame{};
        };
        try {
            if (draws_) {
                draw_offscreen(left.size(), next_frame, order_.wish.width, order_.wish.height,
                               [&](std::size_t, Image image) {
                                   if (drawn) {
                                       look.picture = std::make_shared<const Image>(std::move(image));
                                       tell(*std::exchange(drawn, std::nullopt), look);
                                   }
                                   return goes_on();
                               });
            }
        } catch (const std::exception&) { // no driver, or no memory for it: names, sizes and verdicts do without
            draws_ = false;
        }
        if (drawn) {
            tell(*drawn, look);
        }
        while (!draws_ && goes_on()) {
            (void)next_frame(0);
            if (drawn) {
                tell(*drawn, look);
            }
        }
    }

private:
    std::optional<Frame> read(const ListedMold& listed, MoldLook& look) const {
        try {
            const Loaded<Mold> loaded = read_mold(listed.file);
            if (!loaded.value) {
                look.faults = loaded.faults;
                return std::nullopt;
            }
            look.size_mm = mold_size_mm(*loaded.value);
            return mold_picture(*loaded.value, palette_, static_cast<double>(order_.wish.width) / order_.wish.height);
        } catch (const std::exception& fault) {
            DocumentFault told;
            told.file = listed.file.string();
            told.problem = fault_words(fault);
            look.faults.push_back(std::move(told));
            return std::nullopt;
        }
    }

    void tell(const ListedMold& mold, const MoldLook& look) {
        known_[mold.file] = mold.stamps;
        hand_over_(MoldsIntent{MoldLooked{mold, std::make_shared<const MoldLook>(look)}});
    }

    const StartMoldLooks& order_;
    const Palette& palette_;
    Progress& progress_;
    const BackgroundJobs::HandOver& hand_over_;
    std::map<fs::path, FileStamps> known_;
    bool draws_ = true;
};

} // namespace

MoldListing list_molds(const fs::path& folder, const MoldListing& before) {
    const MoldDocuments found = mold_documents(folder, kSearch);
    MoldListing now;
    now.fault = found.fault;
    now.cut_short = found.cut_short;
    for (const fs::path& file : found.files) {
        const auto known = std::find_if(before.molds.begin(), before.molds.end(),
                                        [&](const ListedMold& mold) { return mold.file == file; });
        if (known != before.molds.end()) {
            const auto stamp = known->stamps.find(file);
            if (stamp != known->stamps.end() && stamp->second == stamp_of(file)) {
                ListedMold mold = *known;
                for (auto& [of, was] : mold.stamps) {
                    was = stamp_of(of);
                }
                now.molds.push_back(std::move(mold));
                continue;
            }
        }
        now.molds.push_back(listed(file));
    }
    std::sort(now.molds.begin(), now.molds.end(), listed_before);
    return now;
}

BackgroundJobs::Job mold_looks_job(const StartMoldLooks& order, const Palette& palette) {
    const auto work = [order, &palette](Progress& progress, const BackgroundJobs::HandOver& hand_over) {
        MoldDrawer drawer(order, palette, progress, hand_over);
        MoldListing told = order.before;
        MoldListing seen = order.before;
        bool first = true;
        while (!progress.cancelled()) {
            const Clock::time_point looked = Clock::now();
            seen = list_molds(order.folder, seen);
            MoldListing now = seen;
            if (!first) { // at first what there is, so that nothing is waited for
                now.molds = at_rest(told.molds, seen.molds, now_ns());
                std::sort(now.molds.begin(), now.molds.end(), listed_before);
            }
            if (first || now != told) {
                told = std::move(now);
                hand_over(MoldsIntent{MoldsListed{order.number, told}});
            }
            first = false;
            drawer.look(told.molds, looked + kAgain);
            while (!progress.cancelled() && Clock::now() < looked + kAgain) {
                std::this_thread::sleep_for(kHeedsCancel);
            }
        }
    };
    return {work, [number = order.number](const std::string& why) {
                return MoldsIntent{MoldsListed{number, {{}, why, false}}};
            }};
}

BackgroundJobs::Job mold_fits_job(const StartMoldFits& order) {
    const auto work = [order](Progress& progress, const BackgroundJobs::HandOver& hand_over) {
        const Clock::time_point began = Clock::now();
        std::vector<std::size_t> left(order.molds.size());
        for (std::size_t i = 0; i < left.size(); ++i) {
            left[i] = i;
        }
        const auto all = static_cast<double>(left.size());
        std::size_t asked = 0;
        while (!left.empty() && !progress.cancelled()) {
            const std::size_t next = next_of(order.molds, left, order.in_sight->get());
            std::erase(left, next);
            const double done = all - static_cast<double>(left.size());
            Progress of_this(progress, (done - 1) / all, done / all);
            Fit result;
            try {
                result = fit_document(*order.like, order.molds[next].file, of_this, one_core_less());
            } catch (const std::exception& fault) {
                DocumentFault told;
                told.file = order.molds[next].file.string();
                told.problem = fault_words(fault);
                result.faults.push_back(std::move(told));
            }
            if (progress.cancelled()) {
                return;
            }
            asked += result.faults.empty() ? 1 : 0; // what cannot be read takes no time, and tells none
            progress.tell(done / all);
            hand_over(MoldsIntent{MoldFitted{order.number, order.press, order.molds[next],
                                             std::make_shared<const Fit>(std::move(result)),
                                             seconds_left(asked, asked + left.size(), seconds_since(began))}});
        }
        hand_over(MoldsIntent{MoldFitsEnded{order.number}});
    };
    return {work, [number = order.number](const std::string& /*why*/) {
                return MoldsIntent{
                    MoldFitsEnded{number}}; // each mold's own fault is told with it; these were not asked
            }};
}

BackgroundJobs::Job comparison_job(const StartComparison& order) {
    const auto work = [order](Progress& progress, const BackgroundJobs::HandOver& hand_over) {
        MoldCompared news{order.number, std::nullopt, {}};
        const Loaded<Setup> loaded = read_setup(order.file, order.texts);
        if (loaded.value) {
            CheckRequest request;
            request.jobs = one_core_less();
            news.other = order.other;
            news.other->results = std::make_shared<const CheckResults>(
                run_checks(*loaded.value, assemble(*loaded.value), request, progress));
        } else {
            std::transform(loaded.faults.begin(), loaded.faults.end(), std::back_inserter(news.faults),
                           [](const DocumentFault& fault) { return fault.sentence(); });
        }
        hand_over(MoldsIntent{std::move(news)});
    };
    return {work, [number = order.number](const std::string& why) {
                return MoldsIntent{MoldCompared{number, std::nullopt, {why}}};
            }};
}

} // namespace evenclose
