// scene/documents/document_keys.hpp: every word that may stand as a key in our documents, object by object.
//
// The one list: the readers refuse what is not in it, and assets/schemas/ is held against it by a test.
#pragma once

#include <span>
#include <string_view>

namespace evenclose {

enum class DocumentKind { press, mold, setup };

[[nodiscard]] std::string_view name_of(DocumentKind kind); // as documents write it: "press", "mold", "set-up"

inline constexpr int kDocumentVersion = 1;

struct ObjectKeys {
    std::string_view object; // "press", "jack": as the schema's definitions call it
    std::span<const std::string_view> keys;
};

/// Units of length as documents write them.
inline constexpr std::string_view kUnitWords[] = {"mm", "cm", "m", "in", "inch", "ft"};

/// The document itself comes first.
[[nodiscard]] std::span<const ObjectKeys> keys_of(DocumentKind kind);
/// Needs: a name that keys_of(kind) has.
[[nodiscard]] const ObjectKeys& keys_of(DocumentKind kind, std::string_view object);

} // namespace evenclose
