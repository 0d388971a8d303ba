// Keeps the workbench for use without a network. The list and the version are put in when it is built.
const KEPT = __KEPT__
const CACHE = `resolutio-${__VERSION__}`

// A newer version waits until the windows of the old one are closed: those go on with the files that they began with.
self.addEventListener("install", event => {
  event.waitUntil(
    caches.open(CACHE).then(cache => cache.addAll(KEPT.map(file => new Request(file, { cache: "reload" })))),
  )
})

self.addEventListener("activate", event => {
  const old = names => names.filter(name => name.startsWith("resolutio-") && name !== CACHE)
  event.waitUntil(
    caches
      .keys()
      .then(names => Promise.all(old(names).map(name => caches.delete(name))))
      .then(() => self.clients.claim()),
  )
})

self.addEventListener("fetch", event => {
  const { request } = event
  const here = new URL(self.registration.scope)
  const url = new URL(request.url)
  if (request.method !== "GET" || url.origin !== here.origin || !url.pathname.startsWith(here.pathname)) return
  event.respondWith(request.mode === "navigate" ? page(request) : kept(request))
})

/** The browser looks for a newer service worker by itself whenever a page is opened. */
async function page(request) {
  return (await caches.match("./", { cacheName: CACHE })) ?? fetch(request)
}

/** File names change with their content, so what is kept is never old. */
async function kept(request) {
  const known = await caches.match(request, { cacheName: CACHE, ignoreVary: true })
  if (known) return known
  const answer = await fetch(request)
  if (answer.ok && answer.type === "basic") {
    const cache = await caches.open(CACHE)
    await cache.put(request, answer.clone())
  }
  return answer
}
