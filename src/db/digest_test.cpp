#include "db/digest.h"

#include "support/database.h"

using namespace coilbook;
using namespace coilbook::db;

namespace {

std::string sha256(std::string_view bytes) {
    Digest digest;
    digest.add_raw(bytes);
    return digest.finish();
}

template <class Add>
std::string after(Add add) {
    Digest digest;
    add(digest);
    return digest.finish();
}

}  // namespace

TEST_SUITE("Digests") {
    // Source: NIST, "Secure Hash Standard" examples for FIPS 180-4, SHA-256; checked here against
    // coreutils' sha256sum.
    TEST_CASE("published messages have their published fingerprints") {
        CHECK(sha256("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
        CHECK(sha256("") == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
        CHECK(sha256("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq") ==
              "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
    }

    // Source: NIST, "Secure Hash Standard" examples for FIPS 180-4: a million letters a.
    TEST_CASE("the same bytes in pieces of any size have the same fingerprint") {
        const std::string million(1'000'000, 'a');
        for (const std::size_t piece : {1U, 9U, 4095U, 4096U, 4097U, 70'000U, 1'000'000U}) {
            Digest digest;
            for (std::size_t at = 0; at < million.size(); at += piece) {
                digest.add_raw(std::string_view(million).substr(at, piece));
            }
            CHECK(digest.finish() ==
                  "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
        }
    }

    TEST_CASE("other pieces, another order, another kind: another fingerprint") {
        using std::string_view_literals::operator""sv;
        const auto two = [](std::string_view a, std::string_view b) {
            return after([&](Digest& digest) {
                digest.add(a);
                digest.add(b);
            });
        };
        CHECK(two("ab", "c") != two("a", "bc"));
        CHECK(two("a", "b") != two("b", "a"));
        CHECK(two("", "a") != two("a", ""));
        const auto one = [](auto value) {
            return after([&](Digest& digest) { digest.add(value); });
        };
        CHECK(one(std::int64_t{1}) != one(1.0));
        CHECK(one(0.1 + 0.2) != one(0.3));
        CHECK(one("1"sv) != after([](Digest& digest) { digest.add_blob("1"); }));
        CHECK(one(""sv) != after([](Digest& digest) { digest.add_null(); }));
    }

    TEST_CASE("a row goes in with all its cells, as they are stored") {
        auto shelf = Database::in_memory(shelf_kind());
        run_script(shelf,
                   "CREATE TABLE thing (a ANY, b ANY) STRICT;"
                   "INSERT INTO thing VALUES (1, 'x'), (1.0, 'x'), (NULL, x'78'), (1, 'x')");
        Statement list(shelf, "SELECT a, b FROM thing ORDER BY rowid");
        const auto prints = list.all(
            [](const Row& row) { return after([&](Digest& digest) { row.add_to(digest); }); });
        CHECK(prints[0] == after([](Digest& digest) {
                  digest.add(std::int64_t{1});
                  digest.add("x");
              }));
        CHECK(prints[0] == prints[3]);
        CHECK(prints[0] != prints[1]);
        CHECK(prints[0] != prints[2]);
    }
}
