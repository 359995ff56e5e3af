// viewer/app/comparison.hpp: what two molds in the same press are found to be, check by check.
#pragma once

#include "checks/check_list.hpp"

#include <filesystem>
#include <memory>
#include <string>
#include <vector>

namespace evenclose {

/// The mold that was in the press before the one that is there now.
struct ComparedMold {
    std::size_t opening = 0;
    std::filesystem::path file; // its document_id
    std::string name;
    std::shared_ptr<const CheckResults> results;
};

/// The worst finding of a check of either; null where the check had nothing to say.
struct ComparedRow {
    std::string check;
    const Finding *before = nullptr, *now = nullptr;
    bool differs = false; // in verdict, or in the number measured
};

/// Those that differ first, the worst of either first among them; else in the order of the checks.
/// The rows point into what is given.
[[nodiscard]] std::vector<ComparedRow> compared_rows(const CheckResults& before, const CheckResults& now);

} // namespace evenclose
