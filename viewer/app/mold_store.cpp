#include "viewer/app/mold_store.hpp"

#include <algorithm>

namespace evenclose {

MoldStore::Known& MoldStore::entry(const ListedMold& mold) {
    const std::string file = mold.file.string();
    if (known_.size() >= kMostMolds && !known_.contains(file)) {
        known_.clear(); // they come again when they are looked at again
    }
    Known& known = known_[file];
    if (known.stamps != mold.stamps) {
        known = {mold.stamps, nullptr, {}};
    }
    return known;
}

const MoldStore::Known* MoldStore::found(const ListedMold& mold) const {
    const auto known = known_.find(mold.file.string());
    return known != known_.end() && known->second.stamps == mold.stamps ? &known->second : nullptr;
}

void MoldStore::keep(const ListedMold& mold, std::shared_ptr<const MoldLook> look) {
    entry(mold).look = std::move(look);
}

void MoldStore::keep(const ListedMold& mold, const std::string& press, std::shared_ptr<const Fit> fit) {
    auto& fits = entry(mold).fits;
    std::erase_if(fits, [&](const auto& known) { return known.first == press; });
    fits.emplace_back(press, std::move(fit));
    if (fits.size() > kMostPresses) {
        fits.pop_front();
    }
}

std::shared_ptr<const MoldLook> MoldStore::look(const ListedMold& mold) const {
    const Known* known = found(mold);
    return known != nullptr ? known->look : nullptr;
}

std::shared_ptr<const Fit> MoldStore::fit(const ListedMold& mold, const std::string& press) const {
    if (const Known* known = found(mold)) {
        const auto at =
            std::find_if(known->fits.begin(), known->fits.end(), [&](const auto& one) { return one.first == press; });
        return at != known->fits.end() ? at->second : nullptr;
    }
    return nullptr;
}

} // namespace evenclose
