// viewer/app/document_templates.hpp: what a shop starts from when it adds something to a document: a whole one of its kind with
// plausible sizes (common practice, no source), every number to be edited afterwards.
#pragma once

#include <string_view>

namespace evenclose {

/// `definition` as the schema calls it: "jack", "member". Empty if there is none. Lengths carry their unit, so that it fits
/// a document in inches too.
[[nodiscard]] std::string_view template_of(std::string_view definition);

} // namespace evenclose
