#include "checks/fit/fit.hpp"

#include "checks/check_list.hpp"
#include "scene/documents/documents.hpp"

#include <tbb/global_control.h>
#include <tbb/parallel_for.h>
#include <tbb/task_arena.h>

#include <algorithm>
#include <atomic>
#include <memory>
#include <stdexcept>
#include <string_view>
#include <utility>

namespace evenclose {
namespace {

constexpr std::string_view kOfThePressOnly = "hands";
constexpr std::string_view kOfTheCrew = "time";

/// No-go first, then marginal, then not checked: all that keeps a line from being a plain "fits".
const Finding* first_of(const std::vector<Finding>& findings, Verdict verdict) {
    const auto found = std::find_if(findings.begin(), findings.end(),
                                    [verdict](const Finding& finding) { return finding.verdict == verdict; });
    return found == findings.end() ? nullptr : &*found;
}

} // namespace

const Finding& first_stop(const std::vector<Finding>& findings) {
    const Finding* first = nullptr;
    for (const Finding& finding : findings) {
        const bool stops = finding.verdict == Verdict::no_go;
        const bool sooner = first != nullptr && finding.travel && first->travel && finding.check == first->check &&
                            finding.travel->from.mm < first->travel->from.mm;
        if (stops && (first == nullptr || sooner)) {
            first = &finding;
        }
    }
    if (first == nullptr) {
        throw std::logic_error("first_stop: nothing stops it");
    }
    return *first;
}

Fit fit(const Setup& like, const std::shared_ptr<const Mold>& mold, Progress& progress, int jobs) {
    Fit result;
    result.file = mold->file;
    result.mold = mold->name;
    Setup setup = like;
    setup.name = mold->name;
    setup.openings = {Opening{mold->file, mold}};
    setup.intermediate_platens.clear();
    CheckRequest request;
    request.jobs = jobs;
    request.until_no_go = true;
    for (const CheckEntry& entry : check_entries()) {
        // Without a crew the set-up says nothing of time, and `time` could only say that of every mold.
        if (entry.id != kOfThePressOnly && (entry.id != kOfTheCrew || like.crew)) {
            request.only.emplace_back(entry.id);
        }
    }
    CheckResults results;
    try {
        results = run_checks(setup, assemble(setup), request, progress);
    } catch (const std::invalid_argument& fault) {
        DocumentFault told;
        told.file = mold->file;
        told.problem = fault.what();
        result.faults.push_back(std::move(told));
        return result;
    }
    result.verdict = worst_of(results.findings);
    if (result.verdict == Verdict::no_go) {
        result.first = first_stop(results.findings);
        const auto stopped = std::find(request.only.begin(), request.only.end(), result.first->check);
        result.not_asked.assign(stopped + 1, request.only.end());
    } else if (result.verdict != Verdict::go) {
        result.first = *first_of(results.findings, result.verdict);
    }
    return result;
}

Fit fit_document(const Setup& like, const std::filesystem::path& file, Progress& progress, int jobs) {
    Fit result;
    Loaded<Mold> loaded = read_mold(file);
    if (loaded.value) {
        result = fit(like, std::make_shared<const Mold>(std::move(*loaded.value)), progress, jobs);
    } else {
        result.faults = std::move(loaded.faults);
    }
    result.file = file.string();
    return result;
}

std::vector<Fit> fit_all(const Setup& like, const std::vector<std::filesystem::path>& files, int jobs,
                         Progress& progress) {
    std::optional<tbb::global_control> at_most;
    if (jobs > 0) {
        at_most.emplace(tbb::global_control::max_allowed_parallelism, static_cast<std::size_t>(jobs));
    }
    std::vector<Fit> fits(files.size());
    std::atomic<std::size_t> done{0};
    tbb::parallel_for(std::size_t{0}, files.size(), [&](std::size_t i) {
        // Isolated: a thread that waits inside one mold's checks helps there, and does not begin another mold, whose
        // meshes would be held meanwhile too.
        tbb::this_task_arena::isolate([&] {
            Progress of_this(progress, 0.0, 0.0); // hears the cancel; how far all is, is told below
            if (of_this.cancelled()) {
                return;
            }
            fits[i] = fit_document(like, files[i], of_this);
        });
        progress.tell(static_cast<double>(++done) / static_cast<double>(files.size()));
    });
    return fits;
}

} // namespace evenclose
