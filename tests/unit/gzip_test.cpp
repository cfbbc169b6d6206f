// Weather files compressed by gzip. The packed bytes were made by the program gzip (1.12, options
// -9 -n) from the text beside them.
#include "catch.hpp"

#include <unistd.h>

#include <fmt/format.h>

#include <filesystem>
#include <fstream>
#include <string>
#include <string_view>

#include <epicotyl/plan/plan_file.hpp>
#include <epicotyl/weather/daily_csv.hpp>
#include <epicotyl/weather/ghcn_daily.hpp>

#include "../../src/weather/gzip.hpp"

using namespace epicotyl;

namespace {

unsigned char const packed_bytes[] = {
    0x1f, 0x8b, 0x08, 0x00, 0x00, 0x00, 0x00, 0x00, 0x02, 0x03, 0x4d, 0x91, 0x3b, 0x6e, 0x03, 0x31,
    0x0c, 0x44, 0x7b, 0x9f, 0x65, 0x16, 0x10, 0x47, 0xdf, 0x3d, 0x8d, 0x61, 0x38, 0x29, 0x52, 0x24,
    0x95, 0x8b, 0x1c, 0x3f, 0x9a, 0x05, 0xe2, 0x21, 0x24, 0x40, 0x18, 0x92, 0xc5, 0x7b, 0xe2, 0xc7,
    0xe3, 0xf5, 0x89, 0xd7, 0xf7, 0xd7, 0xcf, 0xfd, 0xb9, 0x9f, 0xc7, 0xef, 0xfd, 0x79, 0x63, 0xe1,
    0x38, 0x4a, 0xec, 0x8b, 0xa3, 0x62, 0x39, 0x13, 0x0d, 0x51, 0x9d, 0x2b, 0x0a, 0x22, 0xf5, 0x1b,
    0x26, 0xa2, 0x38, 0x77, 0x54, 0x44, 0x77, 0x1e, 0x38, 0x02, 0x4c, 0x03, 0x13, 0x03, 0x41, 0xe7,
    0x05, 0x22, 0xa6, 0xf3, 0x89, 0x83, 0x38, 0xdf, 0x39, 0x0a, 0x3a, 0xa2, 0x39, 0x07, 0xf6, 0x49,
    0x7d, 0x0a, 0x38, 0xc2, 0x85, 0x2a, 0xe2, 0xe1, 0xdc, 0x36, 0xb1, 0x81, 0xa3, 0x0b, 0xd8, 0x42,
    0x31, 0x04, 0x9c, 0xfa, 0x53, 0xc0, 0xc9, 0x28, 0x96, 0x80, 0x6d, 0x14, 0xe7, 0x06, 0x4e, 0x42,
    0x2c, 0x02, 0x4e, 0x46, 0x0c, 0x11, 0xdb, 0x88, 0xbb, 0x9b, 0x84, 0x58, 0x2f, 0x60, 0x1b, 0xb1,
    0x09, 0x38, 0x0d, 0x74, 0x7d, 0xb1, 0x85, 0x38, 0x44, 0x6c, 0x21, 0x4e, 0xe4, 0x0d, 0x71, 0x5d,
    0xc0, 0x36, 0xe2, 0x29, 0x60, 0x0f, 0xd4, 0xa2, 0x1f, 0x36, 0x70, 0x8d, 0x0b, 0xf8, 0xdf, 0x88,
    0xda, 0x79, 0xb7, 0x11, 0xb5, 0xf3, 0xb0, 0x10, 0xb5, 0x73, 0x11, 0x4f, 0x17, 0x44, 0x7c, 0x3a,
    0x5e, 0xc0, 0xcd, 0xf9, 0x02, 0x4e, 0x7d, 0x01, 0xbf, 0x85, 0xa8, 0x95, 0x8b, 0x78, 0xb8, 0x20,
    0xe2, 0x75, 0xfb, 0x03, 0x40, 0x10, 0xe6, 0x99, 0x97, 0x02, 0x00, 0x00,
};
std::string_view const packed{reinterpret_cast<char const*>(packed_bytes), sizeof packed_bytes};

/// Forty days from 1 January 2026: minimum (7 k mod 11) - 3, maximum (5 k mod 13) + 8 on day k.
std::string make_text() {
    std::string made = "date,tmin_c,tmax_c\n";
    for (int k = 0; k < 40; ++k) {
        made += fmt::format("{},{},{}\n", to_iso(make_day(2026, 1, 1) + days{k}), 7 * k % 11 - 3,
                            5 * k % 13 + 8);
    }
    return made;
}
std::string const text = make_text();

/// A folder for the files of one test.
class scratch {
public:
    scratch() { std::filesystem::create_directory(folder_); }
    ~scratch() {
        std::error_code ignored;
        std::filesystem::remove_all(folder_, ignored);
    }
    [[nodiscard]] std::filesystem::path write(std::string const& name, std::string_view bytes) {
        std::ofstream{folder_ / name, std::ios::binary} << bytes;
        return folder_ / name;
    }

private:
    std::filesystem::path folder_ =
        std::filesystem::temp_directory_path() / fmt::format("epicotyl_gzip_test_{}", ::getpid());
};

template <class Read>
std::string message_of(Read read) {
    try {
        (void)read();
    } catch (invalid_input const& fault) {
        CHECK_FALSE(fault.code().empty());
        return fault.what();
    }
    return "accepted";
}

}  // namespace

TEST_CASE("a table of days compressed by gzip is read like the plain one, whatever its name") {
    scratch folder;
    daily_record const plain = read_daily_csv(folder.write("marlpit.csv", text));
    CHECK(plain.size() == 40);
    CHECK(read_daily_csv(folder.write("marlpit.csv", packed)) == plain);
    // The other way round: the name says gzip, the bytes are plain.
    daily_csv_options named;
    named.name = "marlpit";
    CHECK(read_daily_csv(folder.write("marlpit.csv.gz", text), named) == plain);
}

TEST_CASE("the ending .gz is no part of a station's name") {
    scratch folder;
    CHECK(read_daily_csv(folder.write("marlpit.csv.gz", packed)).name() == "marlpit");
    CHECK(read_daily_csv(folder.write("st. mary.csv", packed)).name() == "st. mary");
}

TEST_CASE("a gzip file of several members is their texts one after the other") {
    CHECK(detail::unpacked_gzip(packed, "f.gz") == text);
    CHECK(detail::unpacked_gzip(std::string{packed} + std::string{packed}, "f.gz") ==
          std::string{text} + std::string{text});
}

TEST_CASE("a gzip file that is cut off anywhere is refused") {
    for (std::size_t length = 2; length < packed.size(); ++length) {
        INFO(length);
        std::string const told =
            message_of([&] { return detail::unpacked_gzip(packed.substr(0, length), "f.gz"); });
        CHECK(told.starts_with("f.gz: the compressed data end too soon, after "));
        CHECK(told.ends_with(" unpacked bytes; fetch the file again"));
    }
    CHECK(message_of([] { return detail::unpacked_gzip(packed.substr(0, 2), "f.gz"); }) ==
          "f.gz: the compressed data end too soon, after 0 unpacked bytes; fetch the file again");
}

TEST_CASE("no single bit of a gzip file's data changes unnoticed") {
    // Bytes 0 to 9 are the header, of which time and system (4 to 9) change nothing.
    for (std::size_t at = 10; at < packed.size(); ++at) {
        for (unsigned bit = 0; bit < 8; ++bit) {
            std::string bytes{packed};
            bytes[at] = static_cast<char>(static_cast<unsigned char>(bytes[at]) ^ (1U << bit));
            std::string read;
            try {
                read = detail::unpacked_gzip(bytes, "f.gz");
            } catch (invalid_input const&) { continue; }
            CHECK(read == text);
        }
    }
    std::string bytes{packed};
    bytes[bytes.size() - 5] = static_cast<char>(~bytes[bytes.size() - 5]);
    CHECK(message_of([&] { return detail::unpacked_gzip(bytes, "f.gz"); }) ==
          "f.gz: the compressed data are damaged (incorrect data check); fetch the file again");
}

TEST_CASE("what follows the compressed data, or unpacks to more than the bound, is refused") {
    CHECK(message_of([] { return detail::unpacked_gzip(std::string{packed} + "rest", "f.gz"); }) ==
          "f.gz: 4 bytes that are not gzip follow the compressed data; fetch the file again");
    CHECK(detail::unpacked_gzip(packed, "f.gz", text.size()) == text);
    CHECK(message_of([] { return detail::unpacked_gzip(packed, "f.gz", 100); }) ==
          "f.gz: the file unpacks to more than is read at once (allowed: up to 100 bytes); cut it "
          "down, for example to the lines of one station");
    // Members count together.
    CHECK(message_of([] {
              return detail::unpacked_gzip(std::string{packed} + std::string{packed}, "f.gz",
                                           text.size() + 1);
          }).starts_with("f.gz: the file unpacks to more than is read at once"));
}

TEST_CASE("a reader says which gzip file it cannot unpack") {
    scratch folder;
    std::filesystem::path const path = folder.write("f.dly.gz", packed.substr(0, 2));
    std::string const expected =
        path.string() +
        ": the compressed data end too soon, after 0 unpacked bytes; fetch the file again";
    CHECK(message_of([&] { return read_ghcn_daily(path); }) == expected);
    CHECK(message_of([&] { return read_daily_csv(path); }) == expected);
}
