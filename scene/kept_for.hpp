// scene/kept_for.hpp: things made from a shared one (a mesh, a tint), once for each, kept as long as somebody
// else holds it.
#pragma once

#include <memory>
#include <unordered_map>
#include <utility>

namespace evenclose {

/// Threads: none of its own; guard it or keep it on one.
template <class Source, class Made> class KeptFor {
public:
    /// What was made from this very one, or null.
    [[nodiscard]] Made* find(const std::shared_ptr<const Source>& source) {
        const auto found = entries_.find(source.get());
        // A new one may stand where a freed one stood: the weak pointer tells them apart.
        return found != entries_.end() && found->second.source.lock() == source ? &found->second.made : nullptr;
    }
    Made& keep(const std::shared_ptr<const Source>& source, Made made) {
        Entry& entry = entries_[source.get()];
        entry.source = source;
        entry.made = std::move(made);
        return entry.made;
    }
    /// Lets go of what belongs to those that nobody else holds.
    void forget_gone() {
        std::erase_if(entries_, [](const auto& entry) { return entry.second.source.expired(); });
    }

private:
    struct Entry {
        std::weak_ptr<const Source> source;
        Made made;
    };
    std::unordered_map<const Source*, Entry> entries_;
};

} // namespace evenclose
