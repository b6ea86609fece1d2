#pragma once
/// The canvas: its WebGL2 context, sizes, and the loss and return of the context.

struct ImDrawData;

namespace steep {

class Canvas {
 public:
  /// Makes the context and the renderer; false when the browser has no WebGL2 for us.
  bool begin();
  /// The system took the context: no call of it until begin_again().
  void lost() { there_ = false; }
  bool begin_again();
  bool is_there() const { return there_; }

  /// Size in dp, and of the backing store in device pixels.
  void resize(float width, float height, int pixels_across, int pixels_down);
  float density() const { return density_; }
  void new_frame();
  void draw(ImDrawData* data, unsigned ground);

 private:
  bool make_current();
  unsigned long context_ = 0;
  bool there_ = false, renderer_ = false;
  float width_ = 1, height_ = 1, density_ = 1;
  int across_ = 1, down_ = 1;
};

}  // namespace steep
