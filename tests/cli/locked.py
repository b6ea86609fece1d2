"""Locked handover files, written and opened from their description in DEVELOPERS.md and the standards it names; nothing of the
program is used. `python3 locked.py` checks the pieces against published vectors."""
import base64
import hashlib
import json
import os
import struct

MASK32, MASK64 = (1 << 32) - 1, (1 << 64) - 1


def rounds32(v):
    """20 rounds of ChaCha (RFC 8439, 2.1-2.3)."""
    def quarter(a, b, c, d):
        for x, y, z, turn in ((a, b, d, 16), (c, d, b, 12), (a, b, d, 8), (c, d, b, 7)):
            v[x] = (v[x] + v[y]) & MASK32
            v[z] ^= v[x]
            v[z] = (v[z] << turn | v[z] >> (32 - turn)) & MASK32
    for _ in range(10):
        for column in range(4):
            quarter(column, column + 4, column + 8, column + 12)
        for column in range(4):
            quarter(column, (column + 1) % 4 + 4, (column + 2) % 4 + 8, (column + 3) % 4 + 12)


CONSTANTS = struct.unpack("<4I", b"expand 32-byte k")


def chacha20(key, nonce, counter, data):
    """RFC 8439, 2.4: nonce of 12 bytes."""
    out = bytearray()
    for at in range(0, len(data), 64):
        start = [*CONSTANTS, *struct.unpack("<8I", key), counter + at // 64, *struct.unpack("<3I", nonce)]
        end = start[:]
        rounds32(end)
        stream = struct.pack("<16I", *((a + b) & MASK32 for a, b in zip(start, end)))
        out += bytes(a ^ b for a, b in zip(data[at:at + 64], stream))
    return bytes(out)


def hchacha20(key, nonce):
    """draft-irtf-cfrg-xchacha-03, 2.2: nonce of 16 bytes."""
    v = [*CONSTANTS, *struct.unpack("<8I", key), *struct.unpack("<4I", nonce)]
    rounds32(v)
    return struct.pack("<8I", *v[:4], *v[12:])


def poly1305(key, message):
    """RFC 8439, 2.5."""
    r = int.from_bytes(key[:16], "little") & 0x0ffffffc0ffffffc0ffffffc0fffffff
    sum_ = 0
    for at in range(0, len(message), 16):
        sum_ = (sum_ + int.from_bytes(message[at:at + 16] + b"\1", "little")) * r % ((1 << 130) - 5)
    return ((sum_ + int.from_bytes(key[16:], "little")) & ((1 << 128) - 1)).to_bytes(16, "little")


def long_hash(size, data):
    """H' of RFC 9106, 3.3."""
    data = struct.pack("<I", size) + data
    if size <= 64:
        return hashlib.blake2b(data, digest_size=size).digest()
    out, part = b"", data
    while size - len(out) > 64:
        part = hashlib.blake2b(part).digest()
        out += part[:32]
    return out + hashlib.blake2b(part, digest_size=size - len(out)).digest()


def compress(x, y):
    """G of RFC 9106, 3.5-3.6, of two blocks of 128 numbers."""
    mixed = [a ^ b for a, b in zip(x, y)]
    z = mixed[:]

    def permute(at):
        def quarter(a, b, c, d):
            for i, j, k, turn in ((a, b, d, 32), (c, d, b, 24), (a, b, d, 16), (c, d, b, 63)):
                z[i] = (z[i] + z[j] + 2 * (z[i] & MASK32) * (z[j] & MASK32)) & MASK64
                z[k] ^= z[i]
                z[k] = (z[k] >> turn | z[k] << (64 - turn)) & MASK64
        for i in range(4):
            quarter(at[i], at[i + 4], at[i + 8], at[i + 12])
        for i in range(4):
            quarter(at[i], at[(i + 1) % 4 + 4], at[(i + 2) % 4 + 8], at[(i + 3) % 4 + 12])
    for row in range(8):
        permute([16 * row + i for i in range(16)])
    for column in range(8):
        permute([16 * row + 2 * column + i for row in range(8) for i in range(2)])
    return [a ^ b for a, b in zip(mixed, z)]


def argon2id(password, salt, passes, memory, size, lanes=1, secret=b"", beside=b""):
    """RFC 9106, 3.2-3.4; memory in KiB."""
    texts = b"".join(struct.pack("<I", len(text)) + text for text in (password, salt, secret, beside))
    first = hashlib.blake2b(struct.pack("<6I", lanes, size, memory, passes, 0x13, 2) + texts).digest()
    segment = memory // (4 * lanes)
    length = 4 * segment
    numbers = lambda block: list(struct.unpack("<128Q", block))
    rows = [[numbers(long_hash(1024, first + struct.pack("<2I", i, lane))) for i in range(2)] + [None] * (length - 2)
            for lane in range(lanes)]
    zero = [0] * 128
    for turn in range(passes):
        for part in range(4):
            for lane in range(lanes):
                addresses = []
                for i in range(2 if turn == 0 and part == 0 else 0, segment):
                    at = part * segment + i
                    if turn == 0 and part < 2:
                        if not addresses or i % 128 == 0:
                            head = [turn, lane, part, lanes * length, passes, 2, i // 128 + 1] + [0] * 121
                            addresses = compress(zero, compress(zero, head))
                        word = addresses[i % 128]
                    else:
                        word = rows[lane][at - 1][0]
                    of = lane if turn == 0 and part == 0 else (word >> 32) % lanes
                    area = (part * segment if turn == 0 else length - segment) + (i - 1 if of == lane else -(i == 0))
                    back = area - 1 - (area * ((word & MASK32) ** 2 >> 32) >> 32)
                    place = ((0 if turn == 0 else (part + 1) * segment) + back) % length
                    block = compress(rows[lane][at - 1], rows[of][place])
                    rows[lane][at] = block if turn == 0 else [a ^ b for a, b in zip(rows[lane][at], block)]
    last = zero
    for row in rows:
        last = [a ^ b for a, b in zip(last, row[-1])]
    return long_hash(size, struct.pack("<128Q", *last))


class Stream:
    """libsodium's crypto_secretstream_xchacha20poly1305, without its change of keys."""
    MESSAGE, FINAL = 0, 3

    def __init__(self, key, start):
        self.key, self.counter, self.nonce = hchacha20(key, start[:16]), 1, start[16:]

    def _seal(self, mark, sealed, beside):
        """The message around sealed bytes, and the step to the next one."""
        nonce = struct.pack("<I", self.counter) + self.nonce
        block = chacha20(self.key, nonce, 1, bytes([mark]) + bytes(63))
        text = beside + bytes(-len(beside) % 16) + block + sealed + bytes(len(sealed) % 16)
        text += struct.pack("<2Q", len(beside), 64 + len(sealed))
        code = poly1305(chacha20(self.key, nonce, 0, bytes(32)), text)
        self.nonce = bytes(a ^ b for a, b in zip(self.nonce, code))
        self.counter += 1
        return block[:1] + sealed + code

    def push(self, text, beside=b"", mark=MESSAGE):
        return self._seal(mark, chacha20(self.key, struct.pack("<I", self.counter) + self.nonce, 2, text), beside)

    def pull(self, message, beside=b""):
        nonce = struct.pack("<I", self.counter) + self.nonce
        mark = chacha20(self.key, nonce, 1, message[:1])[0]
        text = chacha20(self.key, nonce, 2, message[1:-16])
        if self._seal(mark, message[1:-16], beside) != message:
            raise ValueError("not what was sealed")
        return text, mark


PIECE = 45_000


def lock(text, passphrase, passes=1, memory=8):
    salt, start = os.urandom(16), os.urandom(24)
    header = json.dumps({"format": "steepbook-locked", "major": 1, "passes": passes, "memory": memory, "salt": salt.hex(),
                         "stream": start.hex()}, separators=(",", ":")).encode()
    stream = Stream(argon2id(passphrase, salt, passes, memory, 32), start)
    lines = [header, base64.b64encode(stream.push(b"", header))]
    for at in range(0, max(1, len(text)), PIECE):
        mark = Stream.FINAL if at + PIECE >= len(text) else Stream.MESSAGE
        lines.append(base64.b64encode(stream.push(text[at:at + PIECE], b"", mark)))
    return b"\n".join(lines) + b"\n"


def unlock(locked, passphrase):
    header, *lines = locked.split(b"\n")[:-1]
    said = json.loads(header)
    key = argon2id(passphrase, bytes.fromhex(said["salt"]), said["passes"], said["memory"], 32)
    stream = Stream(key, bytes.fromhex(said["stream"]))
    pieces = [stream.pull(base64.b64decode(line), b"" if i else header) for i, line in enumerate(lines)]
    assert [mark for _, mark in pieces] == [Stream.MESSAGE] * (len(pieces) - 1) + [Stream.FINAL]
    return b"".join(text for text, _ in pieces)


def published():
    """Each piece against its standard: (what, is right)."""
    key = bytes(range(32))
    yield "ChaCha20 (RFC 8439, 2.3.2)", chacha20(key, bytes.fromhex("000000090000004a00000000"), 1, bytes(64))[:16].hex() == \
        "10f1e7e4d13b5915500fdd1fa32071c4"
    yield "HChaCha20 (draft-irtf-cfrg-xchacha-03, 2.2.1)", hchacha20(key, bytes.fromhex("000000090000004a0000000031415927")).hex() == \
        "82413b4227b27bfed30e42508a877d73a0f9e4d58a74a853c12ec41326d3ecdc"
    yield "Poly1305 (RFC 8439, 2.5.2)", poly1305(bytes.fromhex("85d6be7857556d337f4452fe42d506a80103808afb0db2fd4abff6af4149f51b"),
                                                 b"Cryptographic Forum Research Group").hex() == "a8061dc1305136c6c22b8baf0c0127a9"
    yield "Argon2id (RFC 9106, 5.3)", argon2id(b"\1" * 32, b"\2" * 16, 3, 32, 32, 4, b"\3" * 8, b"\4" * 12).hex() == \
        "0d640df58d78766c08c037a34a8b53c9d01ef0452d75b65eb52520e96b01e659"
    text = os.urandom(PIECE + 5)
    yield "there and back", unlock(lock(text, b"nine wet boots"), b"nine wet boots") == text


if __name__ == "__main__":
    for what, right in published():
        print("ok    " if right else "FAILED", what)
