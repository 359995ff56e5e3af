// checks/fit/fit.hpp: many molds held against one press: does each fit, and if not, what stops it first and by how much?
//
// Each mold stands alone in the press, in its middle, and the checks of check_list.hpp are asked in the order in which a
// mold meets them: soundness, seat, load-in, daylight, stroke, travel ... A no-go ends the questions for that mold: what
// follows it is moot, and is not computed. `hands` is left out: it warns of the press, never of a mold.
#pragma once

#include "checks/finding.hpp"
#include "checks/progress.hpp"
#include "scene/documents/document_fault.hpp"
#include "scene/setup/setup.hpp"

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace evenclose {

/// How one mold fares. With `faults` it could not be read and there is no verdict.
struct Fit {
    std::string file;                   // as asked for
    std::string mold;                   // its name; empty if it could not be read
    std::vector<DocumentFault> faults;  // of its document or its meshes
    Verdict verdict = Verdict::go;      // worst of what was asked
    std::optional<Finding> first;       // no-go: what stops it first; else the first of that verdict; none for go
    std::vector<std::string> not_asked; // ids that the no-go made moot
};

/// The mold alone in the press.
/// Needs: `like` with press, limits and closing force; its openings and the platens between them are not looked at. A mold
/// with its meshes loaded.
/// Faults: a press and mold that cannot be put together are told in `faults`.
/// Threads: pure, any; `progress` may be cancelled from another, the answer is worthless then. `jobs` threads at most (0:
/// as many as the machine has).
[[nodiscard]] Fit fit(const Setup& like, const std::shared_ptr<const Mold>& mold, Progress& progress, int jobs = 0);

/// The same of a mold document, which is read for it; what is wrong with it is told in `faults`.
[[nodiscard]] Fit fit_document(const Setup& like, const std::filesystem::path& file, Progress& progress, int jobs = 0);

/// Reads each mold document and asks as above, molds beside each other on `jobs` threads (0: as many as the machine has).
/// One line for each file, in their order; the same for any number of threads. A mold is let go of before the next.
[[nodiscard]] std::vector<Fit> fit_all(const Setup& like, const std::vector<std::filesystem::path>& files, int jobs,
                                       Progress& progress);

/// `no-go` that a mold meets first: of the findings of one check the earliest on the stroke, else the first told.
/// Needs: one no-go at least.
[[nodiscard]] const Finding& first_stop(const std::vector<Finding>& findings);

} // namespace evenclose
