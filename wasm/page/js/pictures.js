"use strict";
// Photos by the browser's own decoders: made small when they are chosen, made into pixels when they are shown.

const kPhotoSide = 1600;             // Pixels; enough to read a label, some 300 kB.
const kPhotoQuality = 0.8;
const kMostPhotoPixels = 100e6;      // A picture that unpacks to more is not decoded.

class Pictures {
  // [width, height] as the signature's own fields say, before anything is unpacked; null when they don't say.
  static size(bytes) {
    const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    if (bytes.length > 24 && view.getUint32(0) === 0x89504e47) return [view.getUint32(16), view.getUint32(20)];   // PNG: IHDR.
    if (bytes.length < 4 || view.getUint16(0) !== 0xffd8) return null;
    for (let at = 2; at + 9 < bytes.length && bytes[at] === 0xff; at += 2 + view.getUint16(at + 2)) {   // JPEG: SOF0 to SOF15.
      const marker = bytes[at + 1];
      if (marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker)) return [view.getUint16(at + 7), view.getUint16(at + 5)];
    }
    return null;
  }

  static tooLarge(bytes) {
    const size = Pictures.size(bytes);
    return size !== null && size[0] * size[1] > kMostPhotoPixels;
  }

  // Drawn upright, at most `side` pixels a side.
  async draw(blob, side) {
    const whole = await createImageBitmap(blob);
    const share = Math.min(1, side / Math.max(whole.width, whole.height));
    const canvas = document.createElement("canvas");
    canvas.width = Math.max(1, Math.round(whole.width * share));
    canvas.height = Math.max(1, Math.round(whole.height * share));
    const context = canvas.getContext("2d");
    context.imageSmoothingQuality = "high";
    context.drawImage(whole, 0, 0, canvas.width, canvas.height);
    whole.close();
    return canvas;
  }

  // A chosen photo as a JPEG of kPhotoSide, without what the camera wrote into it (place, owner); null when this browser
  // cannot read it: then the program looks at the file itself.
  async smaller(file) {
    try {
      const bytes = new Uint8Array(await file.arrayBuffer());
      if (Pictures.tooLarge(bytes)) return null;
      const canvas = await this.draw(file, kPhotoSide);
      const context = canvas.getContext("2d");
      context.globalCompositeOperation = "destination-over";   // What was see-through is white, not black.
      context.fillStyle = "#fff";
      context.fillRect(0, 0, canvas.width, canvas.height);
      return await new Promise(done => canvas.toBlob(done, "image/jpeg", kPhotoQuality));
    } catch {
      return null;
    }
  }

  // ImageData, at most `side` pixels a side.
  async pixels(bytes, side) {
    if (Pictures.tooLarge(bytes)) throw new Error("too large");
    const canvas = await this.draw(new Blob([bytes]), side);
    return canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height);
  }
}
