// checks/plan/plan_documents.hpp: what a plan offers, written as documents that `evenclose check` reads: a set-up for each
// choice, and the press it needs where that is not the one that stands there.
#pragma once

#include "checks/plan/plan.hpp"

#include <filesystem>
#include <string>
#include <vector>

namespace evenclose {

/// A set-up document, to be put into `folder`: paths are written from there.
/// Needs: a set-up whose molds were read from files.
[[nodiscard]] std::string setup_document(const Setup& setup, const std::filesystem::path& press_file,
                                         const std::filesystem::path& folder);

/// The press document with the changes of taller() typed into it; all else, comments too, as it was typed. Files that it
/// names are named from `folder`.   Faults: one line, `text` is empty then.
struct PressDocument {
    std::string text, fault;
};
[[nodiscard]] PressDocument taller_document(const Press& as_it_stands, const PressChange& change, double stronger,
                                            const std::string& name, const std::filesystem::path& folder);

struct WrittenPlan {
    std::vector<std::filesystem::path> setups; // of the offers, in their order; then the least press, if it is no offer
    std::filesystem::path one_more;            // that does not go; empty if there is none
    std::vector<std::string> faults;
};

/// Makes the folder if it is not there. Each file comes out whole or not at all; older ones of the same name are replaced.
[[nodiscard]] WrittenPlan write_plan(const Plan& plan, const PlanBasis& basis, const std::filesystem::path& folder);

} // namespace evenclose
