// scene/documents/name_register.hpp: names that are taken in a document, each by one part of a kind.
#pragma once

#include "scene/documents/object_cursor.hpp"

#include <fmt/format.h>

#include <map>
#include <string>
#include <utility>

namespace evenclose {

/// Names in findings must tell parts apart, so no two of a kind are called alike.
class NameRegister {
public:
    explicit NameRegister(std::map<std::string, std::string> taken = {}) : taken_{std::move(taken)} {}
    void enter(ObjectCursor& object, const std::string& name) {
        if (name.empty()) {
            return;
        }
        const auto [first, is_new] = taken_.try_emplace(name, object.place() + ".name");
        if (!is_new) {
            object.refuse("name", fmt::format("is taken by {}", first->second), "give each its own name");
        }
    }

private:
    std::map<std::string, std::string> taken_;
};

} // namespace evenclose
