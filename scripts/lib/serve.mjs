// Serves a folder of files on this machine only.
import { createReadStream, existsSync, statSync } from "node:fs"
import { createServer } from "node:http"
import { extname, join, resolve, sep } from "node:path"

const TYPES = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".json": "application/json",
  ".map": "application/json",
  ".webmanifest": "application/manifest+json",
  ".svg": "image/svg+xml",
  ".png": "image/png",
  ".woff2": "font/woff2",
  ".wasm": "application/wasm",
  ".txt": "text/plain; charset=utf-8",
}

/** Gives the server and its address. The first of these ports that is free is taken; 0 is any. */
export async function serve(folder, ports = [0]) {
  for (const port of ports) {
    const server = createServer((request, response) => answer(folder, request, response))
    const listening = await new Promise(done => {
      server.once("error", () => done(false))
      server.listen(port, "127.0.0.1", () => done(true))
    })
    if (listening) return { server, address: `http://127.0.0.1:${server.address().port}/` }
  }
  return undefined
}

function answer(folder, request, response) {
  const file = fileFor(folder, request.url ?? "/")
  if ((request.method !== "GET" && request.method !== "HEAD") || !file) {
    response.writeHead(file ? 405 : 404, { "content-type": "text/plain; charset=utf-8" }).end("Not here.\n")
    return
  }
  response.writeHead(200, {
    "content-type": TYPES[extname(file)] ?? "application/octet-stream",
    "content-length": statSync(file).size,
    "cache-control": "no-cache",
    "x-content-type-options": "nosniff",
  })
  if (request.method === "HEAD") response.end()
  else createReadStream(file).pipe(response)
}

/** A file within the folder; undefined for anything else. */
function fileFor(folder, url) {
  let path
  try {
    path = decodeURIComponent(new URL(url, "http://localhost").pathname)
  } catch {
    return undefined
  }
  const root = resolve(folder)
  const file = resolve(join(root, path.endsWith("/") ? `${path}index.html` : path))
  return file.startsWith(root + sep) && existsSync(file) && statSync(file).isFile() ? file : undefined
}
