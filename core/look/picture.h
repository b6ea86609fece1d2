#pragma once
/// A picture of pixels: a photo on the screen.

#include "base/sha256.h"
#include "host/pixels.h"
#include "look/geometry.h"

struct ImTextureData;

namespace steep {

/// Made and destroyed between frames, never while one is drawn.
class Picture {
 public:
  explicit Picture(const Pixels& pixels);
  ~Picture();
  Picture(const Picture&) = delete;
  Picture& operator=(const Picture&) = delete;

  float ratio() const;  ///< Width to height.
  /// Whole, as large as fits into the box, in its middle.
  void draw_whole(const Box& box) const;
  /// Fills the box; what is too wide or too high is cut off evenly.
  void draw_filling(const Box& box) const;

 private:
  void draw(const Box& box, float left, float top, float right, float bottom) const;
  ImTextureData* texture_;
};

/// After the renderer has ended and before the ImGui context does: frees what waited for a frame to be destroyed in.
void end_pictures();

/// Where drawing gets photos from. They are read and decoded on the way: until then there is none.
class PictureSource {
 public:
  struct Shown {
    const Picture* picture = nullptr;
    bool cannot = false;  ///< This device cannot show it, or its bytes are damaged.
  };
  virtual ~PictureSource() = default;
  /// `large`: for a whole screen, else for a small cell. What is asked for in a frame stays until the next.
  virtual Shown of(const Hash& photo, bool large) = 0;
};

}  // namespace steep
