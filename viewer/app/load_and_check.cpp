#include "viewer/app/load_and_check.hpp"

#include "scene/documents/documents.hpp"

#include <algorithm>
#include <iterator>

namespace evenclose {

void load_and_check(const std::string& file, Generation generation, Progress& progress,
                    const BackgroundJobs::HandOver& hand_over) {
    Loaded<Setup> loaded = read_setup(file);
    if (!loaded.value) {
        std::vector<std::string> faults;
        std::transform(loaded.faults.begin(), loaded.faults.end(), std::back_inserter(faults),
                       [](const DocumentFault& fault) { return fault.sentence(); });
        hand_over(SetupFaulty{generation, std::move(faults)});
        return;
    }
    if (progress.cancelled()) {
        return;
    }
    const auto setup = std::make_shared<const Setup>(std::move(*loaded.value));
    const auto assembly = std::make_shared<const Assembly>(assemble(*setup));
    hand_over(SetupRead{generation, setup, assembly, std::move(loaded.notes)});
    const auto results = std::make_shared<const CheckResults>(run_checks(*setup, *assembly, {}, progress));
    hand_over(Checked{generation, results});
}

} // namespace evenclose
