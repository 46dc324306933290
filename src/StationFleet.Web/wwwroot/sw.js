// Keeps My work and the pages that it marks with data-keep readable without signal, and sends what waits when there is signal again.
// The server always goes first; what is kept answers where it does not.
importScripts('/js/phone-queue.js');
const pages = 'phone-pages';
const assets = 'phone-assets';
const patience = 6000;
const isAsset = path => /^\/(css|js|fonts)\/|^\/(favicon|icon)|^\/manifest\.webmanifest$/.test(path);
// A name with its print in it (phone.wi5pxj0rtg.js) never means other bytes.
const isPrinted = path => /\.\w{10}\.(js|css)$/.test(path);
const isWhole = answer => answer.ok && !answer.redirected && answer.type === 'basic';

addEventListener('install', () => skipWaiting());
addEventListener('activate', event => event.waitUntil(clients.claim()));

addEventListener('fetch', event => {
  const url = new URL(event.request.url);
  if (event.request.method !== 'GET' || url.origin !== location.origin) return;
  if (event.request.mode === 'navigate') event.respondWith(page(event, url));
  else if (isAsset(url.pathname)) event.respondWith(fetch(event.request).catch(() => kept(assets, url.pathname, Response.error())));
});

addEventListener('message', event => {
  if (event.data.fill) event.waitUntil(navigator.locks.request('phone-fill', () => fill(event.data.home, event.data.fill)));
});

addEventListener('sync', event => {
  if (event.tag === 'phone-queue') event.waitUntil(phoneQueue.send());
});

async function kept(cache, path, otherwise) {
  return await (await caches.open(cache)).match(path, { ignoreSearch: true }) ?? otherwise;
}

async function page(event, url) {
  const old = await kept(pages, url.pathname, null);
  const fresh = fetch(event.request).then(answer => {
    if (isWhole(answer) && url.search === '') event.waitUntil(keep(url.pathname, answer.clone(), old !== null).catch(() => {}));
    return answer;
  });
  fresh.catch(() => {});
  if (!old) return fresh.catch(() => nothing());
  const late = new Promise(resolve => setTimeout(() => resolve(old), patience));
  return Promise.race([fresh.catch(() => old), late]);
}

// A page that is kept already, or that has a form of the queue.
async function keep(path, answer, isKept) {
  const text = await answer.clone().text();
  if (!isKept && !text.includes('data-queue=')) return;
  if (await put(assets, drawnWith(text))) await put(pages, [path], new Map([[path, answer]]));
}

function nothing() {
  return new Response(
    `<!DOCTYPE html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>No signal</title>
<main><h1>No signal, and this page is not kept on this phone.</h1><p>Open My work with signal once; it and its tickets and forms are kept then.</p><p><a href="/work">My work</a></p></main></html>`,
    { status: 503, headers: { 'Content-Type': 'text/html; charset=utf-8' } });
}

// My work (or what a person has in its place) was opened with signal: keep it, each page that it marks, those that these mark, and what
// they are drawn with; forget the rest.
async function fill(home, files) {
  const known = new Map();
  const wanted = [home];
  const parts = new Set();
  for (const path of wanted) {
    const answer = await fetch(path, { cache: 'no-store' }).catch(() => null);
    if (!answer || !isWhole(answer)) continue;
    known.set(path, answer);
    const text = await answer.clone().text();
    for (const part of drawnWith(text)) parts.add(part);
    for (const link of text.matchAll(/<a [^>]*data-keep[^>]*>/g)) {
      const marked = /href="([^"?]+)"/.exec(link[0])?.[1];
      if (marked && !wanted.includes(marked)) wanted.push(marked);
    }
  }
  if (!known.has(home)) return;
  const unsettled = (await phoneQueue.all()).filter(entry => entry.state !== 'sent').map(entry => entry.page);
  const kept = [...new Set([...wanted, ...unsettled])];
  // The signal may go at any moment: what a page is drawn and written in with comes before it and goes after it.
  if (!await put(assets, parts)) return;
  await put(pages, kept, known);
  await put(assets, files);
  await forget(pages, kept);
  await forget(assets, [...parts, ...files]);
}

// The style sheets and scripts that a page names.
function drawnWith(text) {
  return new Set([...text.matchAll(/(?:src|href)="\/?((?:js|css)\/[^"]+)"/g)].map(part => `/${part[1]}`));
}

// Keeps what the answers known already hold and fetches the rest; says whether all of it is there, also from before.
async function put(name, paths, known = new Map()) {
  const cache = await caches.open(name);
  let isAll = true;
  for (const path of paths) {
    if (isPrinted(path) && await cache.match(path)) continue;
    const answer = known.get(path) ?? await fetch(path, name === pages ? { cache: 'no-store' } : {}).catch(() => null);
    if (answer && isWhole(answer)) await cache.put(path, answer);
    else isAll &&= await cache.match(path) !== undefined;
  }
  return isAll;
}

async function forget(name, all) {
  const cache = await caches.open(name);
  for (const request of await cache.keys()) {
    if (!all.includes(new URL(request.url).pathname)) await cache.delete(request);
  }
}
