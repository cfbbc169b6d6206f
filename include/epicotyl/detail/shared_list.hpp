// epicotyl: a list that many hold and none changes, kept once for all of them.
#ifndef EPICOTYL_DETAIL_SHARED_LIST_HPP
#define EPICOTYL_DETAIL_SHARED_LIST_HPP

#include <cstddef>
#include <initializer_list>
#include <memory>
#include <utility>
#include <vector>

namespace epicotyl::detail {

template <class Item>
class shared_list {
public:
    shared_list(std::vector<Item> items)  // NOLINT(google-explicit-constructor): they are one
        : items_{std::make_shared<std::vector<Item> const>(std::move(items))} {}
    shared_list(std::initializer_list<Item> items = {}) : shared_list{std::vector(items)} {}

    [[nodiscard]] std::size_t size() const noexcept { return items_->size(); }
    [[nodiscard]] auto begin() const noexcept { return items_->begin(); }
    [[nodiscard]] auto end() const noexcept { return items_->end(); }
    [[nodiscard]] Item const& front() const { return items_->front(); }
    [[nodiscard]] Item const& back() const { return items_->back(); }
    [[nodiscard]] Item const& operator[](std::size_t k) const { return (*items_)[k]; }
    /// True of two that are held once, and not only equal.
    [[nodiscard]] bool is(shared_list const& other) const noexcept {
        return items_ == other.items_;
    }

    friend bool operator==(shared_list const& a, shared_list const& b) {
        return a.is(b) || *a.items_ == *b.items_;
    }

private:
    std::shared_ptr<std::vector<Item> const> items_;
};

}  // namespace epicotyl::detail

#endif
