// epicotyl: where names stand in a long list that holds them, which are not held a second time.
//
// A slot has the number of an entry. A name is looked for from the slot that its hash means, up to
// the first empty one; half of the slots and more are empty.
#ifndef EPICOTYL_DETAIL_NAME_SLOTS_HPP
#define EPICOTYL_DETAIL_NAME_SLOTS_HPP

#include <algorithm>
#include <bit>
#include <cstddef>
#include <functional>
#include <optional>
#include <string_view>
#include <utility>
#include <vector>

namespace epicotyl::detail {

class name_slots {
public:
    /// Room for so many names, before the first of them.
    void reserve(std::size_t names) { slots_.resize(std::bit_ceil(2 * names + 1), empty); }
    /// Takes an entry in; false where one has its name. `name_of` gives the name of a number, which
    /// must stay what it is.
    template <class NameOf>
    bool add(int entry, NameOf const& name_of) {
        if (2 * (count_ + 1) > slots_.size()) { grow(name_of); }
        int& slot = slots_[slot_of(name_of(entry), name_of)];
        if (slot != empty) { return false; }
        slot = entry;
        ++count_;
        return true;
    }
    template <class NameOf>
    [[nodiscard]] std::optional<int> find(std::string_view name, NameOf const& name_of) const {
        if (slots_.empty()) { return std::nullopt; }
        int const entry = slots_[slot_of(name, name_of)];
        return entry == empty ? std::nullopt : std::optional{entry};
    }

private:
    static constexpr int empty = -1;
    static constexpr std::size_t least_slots = 16;

    /// The slot that has a name, or that would have it.
    template <class NameOf>
    [[nodiscard]] std::size_t slot_of(std::string_view name, NameOf const& name_of) const {
        std::size_t const last = slots_.size() - 1;  // a power of two, less one
        std::size_t slot = std::hash<std::string_view>{}(name)&last;
        while (slots_[slot] != empty && name_of(slots_[slot]) != name) { slot = (slot + 1) & last; }
        return slot;
    }
    template <class NameOf>
    void grow(NameOf const& name_of) {
        std::vector<int> const before = std::exchange(
            slots_, std::vector<int>(std::max(least_slots, 2 * slots_.size()), empty));
        for (int const entry : before) {
            if (entry != empty) { slots_[slot_of(name_of(entry), name_of)] = entry; }
        }
    }

    std::vector<int> slots_ = {};
    std::size_t count_ = 0;
};

}  // namespace epicotyl::detail

#endif
