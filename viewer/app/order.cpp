#include "viewer/app/order.hpp"

namespace evenclose {

Order::Order() = default;
Order::Order(const Order&) = default;
Order::Order(Order&&) noexcept = default;
Order& Order::operator=(const Order&) = default;
Order& Order::operator=(Order&&) noexcept = default;
Order::~Order() = default;

} // namespace evenclose
