// What is entered on the phone pages waits here, in IndexedDB, until the server has it. The pages and the service worker share this.
// An entry: key (the form's own), user, kind and about (what the form calls itself and its subject), page (where it is shown), url, act,
// fields, pressed (ms), state: waiting → sent, or asks (the server wants an answer).
self.phoneQueue = (() => {
  const news = 'BroadcastChannel' in self ? new BroadcastChannel('phone-queue') : null;
  const keptSentFor = 14 * 86_400_000;

  const open = () => new Promise((resolve, reject) => {
    const asked = indexedDB.open('stationfleet-phone', 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore('entries', { keyPath: 'key' });
    asked.onsuccess = () => resolve(asked.result);
    asked.onerror = () => reject(asked.error);
  });

  const run = async (mode, work) => {
    const db = await open();
    try {
      return await new Promise((resolve, reject) => {
        const turn = db.transaction('entries', mode, { durability: 'strict' });
        const asked = work(turn.objectStore('entries'));
        turn.oncomplete = () => resolve(asked?.result);
        turn.onerror = turn.onabort = () => reject(turn.error);
      });
    } finally {
      db.close();
    }
  };

  const tell = () => news?.postMessage('changed');
  const all = async () => (await run('readonly', store => store.getAll())).sort((one, other) => one.pressed - other.pressed);
  const change = async work => { await run('readwrite', work); tell(); };

  // One transaction: an answer to what came back takes its place.
  const keep = (entry, instead) => change(store => {
    store.put(entry);
    if (instead) store.delete(instead);
  });
  const drop = key => change(store => store.delete(key));
  const forget = async user => {
    const mine = (await all()).filter(entry => entry.user === user);
    await change(store => { for (const entry of mine) store.delete(entry.key); });
  };

  const pass = async () => {
    const answer = await fetch('/work/pass', { headers: { 'X-Requested-With': 'XMLHttpRequest' }, cache: 'no-store', signal: AbortSignal.timeout(20_000) });
    if (answer.status === 401) return null;
    if (!answer.ok || answer.redirected) throw new Error(`pass: ${answer.status}`);
    return answer.json();
  };

  const post = async (entry, token, own) => {
    const body = new FormData();
    for (const [name, value] of entry.fields) {
      if (typeof value === 'string') body.append(name, value);
      else body.append(name, new Blob([value.bytes], { type: value.type }), value.name);
    }
    body.set(token.field, token.token);
    body.set('Own', own.join(' '));
    body.set('KeptSeconds', String(Math.max(0, Math.round((Date.now() - entry.pressed) / 1000))));
    return fetch(entry.url, { method: 'POST', body, headers: { 'X-Requested-With': 'XMLHttpRequest' }, signal: AbortSignal.timeout(90_000) });
  };

  const settle = async (entry, answer) => {
    const landed = new URL(answer.url);
    const stored = answer.headers.get('Phone-Answer') === 'stored';
    if (answer.ok && (stored || (answer.redirected && /[?&](done|taken)=/.test(landed.search)))) {
      const html = stored ? await answer.text() : null;
      await keep({
        key: entry.key, mark: entry.mark, user: entry.user, kind: entry.kind, about: entry.about, page: entry.page, act: entry.act,
        pressed: entry.pressed, state: 'sent', to: stored ? null : landed.pathname + landed.search, html, tells: entry.tells,
      });
      return 'sent';
    }
    if (answer.status === 401 || answer.redirected) return 'sign-in';
    if (answer.status >= 500 || answer.status === 408 || answer.status === 429) return 'server';
    const html = answer.ok ? await answer.text() : null;
    await keep({ ...entry, state: 'asks', html, status: answer.status });
    return 'asks';
  };

  // Sends what waits, oldest first, one sender at a time, and says what stood in the way: sign-in, server, signal, or null.
  // Whatever breaks, an entry stays until the server has answered for it.
  const send = user => navigator.locks.request('phone-queue', async () => {
    const entries = await all();
    const waiting = entries.filter(entry => entry.state === 'waiting' && (!user || entry.user === user));
    if (waiting.length === 0) return null;
    try {
      let token = await pass();
      if (!token) return 'sign-in';
      for (const entry of waiting) {
        if (entry.user !== token.user) continue;
        const own = entries.filter(other => other.about === entry.about && other.user === entry.user && other.key !== entry.key).map(other => other.mark);
        let answer = await post(entry, token, own);
        // After a restart of the browser, a page that loads at the same moment may make the token stale: then a new one is good.
        for (let attempt = 1; answer.status === 400 && attempt <= 3; attempt++) {
          await new Promise(resolve => setTimeout(resolve, 300 * attempt));
          token = await pass();
          if (token?.user !== entry.user) return 'sign-in';
          answer = await post(entry, token, own);
        }
        const result = await settle(entry, answer);
        if (result === 'sign-in' || result === 'server') return result;
      }
      const old = entries.filter(entry => entry.state === 'sent' && Date.now() - entry.pressed > keptSentFor);
      if (old.length > 0) await change(store => { for (const entry of old) store.delete(entry.key); });
      return null;
    } catch {
      return 'signal';
    }
  });

  return { all, keep, drop, forget, send, news };
})();
