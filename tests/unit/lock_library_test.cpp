// The library that locks handover files, compiled from a list of ours: its parts against published vectors, natively and as
// WebAssembly.
#include <doctest/doctest.h>
#include <vector>

#include <sodium/crypto_aead_xchacha20poly1305.h>
#include <sodium/crypto_core_hchacha20.h>
#include <sodium/crypto_pwhash_argon2id.h>

#include "base/sha256.h"

extern "C" {
#include "crypto_pwhash/argon2/argon2.h"
}

using namespace steep;

namespace {

using Bytes = std::vector<std::uint8_t>;

Bytes from_hex(std::string_view text) {
  Bytes bytes(text.size() / 2);
  REQUIRE(parse_hex(text, bytes));
  return bytes;
}

}  // namespace

TEST_CASE("lock: Argon2id, with lanes, secret and more beside") {
  // RFC 9106 (2021), 5.3: 32 KiB, 3 passes, 4 lanes (typed from memory; a wrong digit would not come out).
  Bytes password(32, 1), salt(16, 2), secret(8, 3), beside(12, 4), tag(32);
  argon2_context asked{};
  asked.out = tag.data(), asked.outlen = 32;
  asked.pwd = password.data(), asked.pwdlen = 32;
  asked.salt = salt.data(), asked.saltlen = 16;
  asked.secret = secret.data(), asked.secretlen = 8;
  asked.ad = beside.data(), asked.adlen = 12;
  asked.t_cost = 3, asked.m_cost = 32, asked.lanes = 4, asked.threads = 4;
  REQUIRE(argon2_ctx(&asked, Argon2_id) == ARGON2_OK);
  CHECK(hex(tag) == "0d640df58d78766c08c037a34a8b53c9d01ef0452d75b65eb52520e96b01e659");
}

TEST_CASE("lock: Argon2id as the lock calls it") {
  // libsodium 1.0.18, test/default/pwhash_argon2id.c and .exp, fifth row: one lane, 3 passes, 1,432,947 bytes.
  const Bytes password = from_hex(
      "4a857e2ee8aa9b6056f2424e84d24a72473378906ee04a46cb05311502d5250b82ad86b83c8f20a23dbb74f6da60b0b6ecffd67134d45946"
      "ac8ebfb3"
      "064294bc097d43ced68642bfb8bbbdd0f50b30118f5e");
  const Bytes salt = from_hex("39d82eef32010b8b79cc5ba88ed539fb");
  Bytes out(190);
  REQUIRE(crypto_pwhash_argon2id(out.data(), out.size(), reinterpret_cast<const char*>(password.data()),
                                 password.size(), salt.data(), 3, 1432947, crypto_pwhash_argon2id_ALG_ARGON2ID13) == 0);
  CHECK(hex(out) ==
        "08d8cd330c57e1b4643241d05bb468ba4ee4e932cd0858816be9ef15360b27bbd06a87130ee92222be267a29b81f5ae8fe8613324cfc48"
        "32dc49387f"
        "d0602f1c57b4d0f3855db94fb7e12eb05f9a484aed4a4307abf586cd3d55c809bc081541e00b682772fb2066504ff935b8ebc551a20838"
        "82f874bc0f"
        "ae68e56848ae34c91097c3bf0cca8e75c0797eef3efde3f75e005815018db3cf7c109a812264c4de69dcb22322dbbcfa447f5b00ecd1b0"
        "4a7be1569c"
        "8e556adb7bba48adf81d");
}

TEST_CASE("lock: HChaCha20") {
  // draft-irtf-cfrg-xchacha-03 (2020), 2.2.1 (from memory).
  Bytes key(32), out(32);
  for (std::size_t i = 0; i < key.size(); ++i) key[i] = static_cast<std::uint8_t>(i);
  const Bytes nonce = from_hex("000000090000004a0000000031415927");
  REQUIRE(crypto_core_hchacha20(out.data(), nonce.data(), key.data(), nullptr) == 0);
  CHECK(hex(out) == "82413b4227b27bfed30e42508a877d73a0f9e4d58a74a853c12ec41326d3ecdc");
}

TEST_CASE("lock: XChaCha20 with Poly1305") {
  // draft-irtf-cfrg-xchacha-03 (2020), A.3.1.
  const std::string_view text =
      "Ladies and Gentlemen of the class of '99: If I could offer you only one tip for the future, sunscreen would be "
      "it.";
  const Bytes key = from_hex("808182838485868788898a8b8c8d8e8f909192939495969798999a9b9c9d9e9f");
  const Bytes nonce = from_hex("404142434445464748494a4b4c4d4e4f5051525354555657"),
              beside = from_hex("50515253c0c1c2c3c4c5c6c7");
  Bytes sealed(text.size() + 16);
  unsigned long long size = 0;
  REQUIRE(crypto_aead_xchacha20poly1305_ietf_encrypt(
              sealed.data(), &size, reinterpret_cast<const unsigned char*>(text.data()), text.size(), beside.data(),
              beside.size(), nullptr, nonce.data(), key.data()) == 0);
  CHECK(size == sealed.size());
  CHECK(hex(sealed) ==
        "bd6d179d3e83d43b9576579493c0e939572a1700252bfaccbed2902c21396cbb731c7f1b0b4aa6440bf3a82f4eda7e39ae64c6708c54c2"
        "16cb96b72e"
        "1213b4522f8c9ba40db5d945b11b69b982c1bb9e3f3fac2bc369488f76b2383565d3fff921f9664c97637da9768812f615c68b13b52e"
        "c0875924c1c7987947deafd8780acf49");
}
