// A “photograph” of a page that there never was: our own drawing of a demo piece in black and red on a ground like parchment, a little
// bent, stained and grained. The same every time. It stands for the source where the workbench is shown.

/** A JPEG of it, from a PNG of the drawn page. `easel` is any window of a browser, to draw in. */
export async function inventedPhotograph(easel, png) {
  const address = await easel.evaluate(painted, `data:image/png;base64,${png.toString("base64")}`)
  return Buffer.from(address.slice(address.indexOf(",") + 1), "base64")
}

/** Runs in the window. */
async function painted(drawn) {
  const image = new Image()
  image.src = drawn
  await image.decode()
  const [border, width, height] = [70, image.width + 140, image.height + 150]
  const canvas = (w, h) => Object.assign(document.createElement("canvas"), { width: w, height: h })
  const flat = canvas(width, height).getContext("2d", { willReadFrequently: true })
  flat.fillStyle = "#fff"
  flat.fillRect(0, 0, width, height)
  flat.drawImage(image, border, border)
  const from = flat.getImageData(0, 0, width, height).data

  let seed = 20_260
  const chance = () => (seed = (seed * 1_664_525 + 1_013_904_223) % 4_294_967_296) / 4_294_967_296
  const stains = Array.from({ length: 26 }, () => ({
    x: chance() * width,
    y: chance() * height,
    reach: 40 + chance() * 220,
    depth: (chance() - 0.45) * 26,
  }))
  const whole = canvas(width, height).getContext("2d")
  const to = whole.createImageData(width, height)
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      // the leaf does not lie flat, and was not quite straight before the lens
      const bend = 5 * Math.sin((x / width) * 3.4 + 0.6) + 2.4 * Math.sin(x / 117 + y / 350)
      const [oldX, oldY] = [x + 3 * Math.sin(y / 190) + (y - height / 2) * 0.006, y + bend - (x - width / 2) * 0.006]
      const at = 4 * (Math.min(height - 1, Math.max(0, oldY | 0)) * width + Math.min(width - 1, Math.max(0, oldX | 0)))
      let light = 8 * Math.sin(x / 410 + 1) + 6 * Math.sin(y / 330) + (chance() - 0.5) * 15
      for (const { x: cx, y: cy, reach, depth } of stains) {
        const far = Math.hypot(x - cx, y - cy) / reach
        if (far < 1) light -= depth * (1 - far) ** 2
      }
      const edge = Math.min(x, y, width - x, height - y)
      if (edge < 90) light -= 34 * (1 - edge / 90) ** 2
      // ink lies unevenly
      const worn = 0.86 + 0.12 * Math.sin(x / 23 + y / 41) * Math.sin(x / 61 - y / 17)
      const ground = [219 + light, 199 + light * 0.95, 158 + light * 0.8]
      for (let c = 0; c < 3; c++) {
        const ink = 1 - (1 - from[at + c] / 255) * worn
        to.data[4 * (y * width + x) + c] = ground[c] * ink + 34 * (1 - ink)
      }
      to.data[4 * (y * width + x) + 3] = 255
    }
  whole.putImageData(to, 0, 0)
  return whole.canvas.toDataURL("image/jpeg", 0.82)
}
