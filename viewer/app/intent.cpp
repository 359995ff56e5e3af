#include "viewer/app/intent.hpp"

namespace evenclose {

EditIntent::EditIntent() = default;
EditIntent::EditIntent(const EditIntent&) = default;
EditIntent::EditIntent(EditIntent&&) noexcept = default;
EditIntent& EditIntent::operator=(const EditIntent&) = default;
EditIntent& EditIntent::operator=(EditIntent&&) noexcept = default;
EditIntent::~EditIntent() = default;

CloselyIntent::CloselyIntent() = default;
CloselyIntent::CloselyIntent(const CloselyIntent&) = default;
CloselyIntent::CloselyIntent(CloselyIntent&&) noexcept = default;
CloselyIntent& CloselyIntent::operator=(const CloselyIntent&) = default;
CloselyIntent& CloselyIntent::operator=(CloselyIntent&&) noexcept = default;
CloselyIntent::~CloselyIntent() = default;

MoldsIntent::MoldsIntent() = default;
MoldsIntent::MoldsIntent(const MoldsIntent&) = default;
MoldsIntent::MoldsIntent(MoldsIntent&&) noexcept = default;
MoldsIntent& MoldsIntent::operator=(const MoldsIntent&) = default;
MoldsIntent& MoldsIntent::operator=(MoldsIntent&&) noexcept = default;
MoldsIntent::~MoldsIntent() = default;

PlanIntent::PlanIntent() = default;
PlanIntent::PlanIntent(const PlanIntent&) = default;
PlanIntent::PlanIntent(PlanIntent&&) noexcept = default;
PlanIntent& PlanIntent::operator=(const PlanIntent&) = default;
PlanIntent& PlanIntent::operator=(PlanIntent&&) noexcept = default;
PlanIntent::~PlanIntent() = default;

FileQuestionIntent::FileQuestionIntent() = default;
FileQuestionIntent::FileQuestionIntent(const FileQuestionIntent&) = default;
FileQuestionIntent::FileQuestionIntent(FileQuestionIntent&&) noexcept = default;
FileQuestionIntent& FileQuestionIntent::operator=(const FileQuestionIntent&) = default;
FileQuestionIntent& FileQuestionIntent::operator=(FileQuestionIntent&&) noexcept = default;
FileQuestionIntent::~FileQuestionIntent() = default;

Intent::Intent() = default;
Intent::Intent(const Intent&) = default;
Intent::Intent(Intent&&) noexcept = default;
Intent& Intent::operator=(const Intent&) = default;
Intent& Intent::operator=(Intent&&) noexcept = default;
Intent::~Intent() = default;

} // namespace evenclose
