// The phone pages without signal: what is entered goes into the queue first and from there to the server. Without this script, and on a
// server without HTTPS, the forms are posted plainly. A form joins by data-queue; docs/phone.md tells what else it needs.
(() => {
  if (!isSecureContext || !navigator.serviceWorker || !navigator.locks || !self.indexedDB) return;
  const queue = self.phoneQueue;
  const find = (what, inside = document) => inside.querySelector(what);
  const user = find('[data-user]')?.dataset.user;
  const say = (words, kind = '') => {
    find('[data-phone-says]')?.remove();
    const box = Object.assign(document.createElement('p'), { className: `say ${kind}`, textContent: words, tabIndex: -1 });
    box.dataset.phoneSays = '';
    box.setAttribute('role', 'status');
    find('main').prepend(box);
    scrollTo(0, 0);
    return box;
  };
  const link = (words, to) => Object.assign(document.createElement('a'), { textContent: words, href: to });
  const button = (words, press) => {
    const made = Object.assign(document.createElement('button'), { type: 'button', className: 'go alt', textContent: words });
    made.addEventListener('click', press);
    return made;
  };

  // Readable pages belong to whoever is signed in: the page for signing in, and signing out, take them away.
  const forgetPages = () => caches.delete('phone-pages');
  if (find('[data-sign-in]')) forgetPages();
  const out = find('form[data-sign-out]');
  if (out) {
    let isSure = false;
    out.addEventListener('submit', async event => {
      event.preventDefault();
      const mine = (await queue.all()).filter(entry => entry.user === out.dataset.signOut && entry.state !== 'sent');
      if (mine.length > 0 && !isSure) {
        isSure = true;
        const asks = find('[data-unsent]');
        asks.hidden = false;
        asks.replaceChildren(
          `Not sent yet, kept on this phone: ${mine.length}. Signing out throws ${mine.length === 1 ? 'it' : 'them'} away. `,
          link('Look at My work, and send first', '/work'));
        find('button', out).textContent = 'Throw away and sign out';
        return;
      }
      await forgetPages();
      await queue.forget(out.dataset.signOut);
      out.submit();
    });
  }
  if (!user) return;

  let trouble = null;
  let pending = null; // the entry that this page shows as just pressed
  const drawLine = async () => {
    const all = await queue.all();
    const told = all.filter(entry => entry.user === user && entry.state === 'sent' && entry.tells && entry.key !== pending?.key);
    const entries = all.filter(entry => entry.state !== 'sent');
    const waiting = entries.filter(entry => entry.user === user && entry.state === 'waiting');
    const asking = entries.filter(entry => entry.user === user && entry.state === 'asks');
    const others = entries.filter(entry => entry.user !== user);
    const words = [];
    if (waiting.length > 0) {
      words.push(navigator.onLine && trouble !== 'signal' ? '' : 'No signal. ', `Kept on this phone: ${waiting.length}. `);
      if (trouble === 'sign-in') words.push(link('Sign in again', `/sign-in?ReturnUrl=${encodeURIComponent(location.pathname)}`), ' to send it. ');
      else words.push(trouble === 'server' ? 'The server has trouble; it is tried again. ' : 'It is sent when there is signal. ');
    }
    for (const [page, about] of new Map(asking.map(entry => [entry.page, entry.about]))) words.push(link(`${about} asks you something`, page), '. ');
    for (const entry of told) words.push(`${entry.about} of ${new Date(entry.pressed).toTimeString().slice(0, 5)} is sent: `, link('the answer', entry.to), '. ');
    if (others.length > 0) words.push(`Kept for somebody else who used this phone: ${others.length}. It is sent when they sign in. `);
    const line = find('[data-kept-line]');
    line.hidden = words.length === 0;
    line.dataset.waiting = waiting.length;
    line.replaceChildren(...words);
  };

  // The server's answer takes the place of what the page shows; the form in it is taken over like the first.
  // Chosen photographs, which no server can put back into a form, stay with it.
  let carried = [];
  const show = (html, entry) => {
    const main = document.importNode(new DOMParser().parseFromString(html, 'text/html').querySelector('main'), true);
    const chosen = find('input[type=file]');
    find('main').replaceWith(main);
    const form = entry && find(`form[data-queue="${entry.kind}"]`);
    if (!entry && chosen) find('input[type=file]')?.replaceWith(chosen);
    if (form) {
      carried = find('#wrong-Photographs') ? [] : entry.fields.filter(([, value]) => typeof value !== 'string');
      if (carried.length > 0) {
        const words = Object.assign(document.createElement('small'), { textContent: `Still with it: ${carried.length} that you chose before.` });
        find('input[type=file]', form)?.after(words);
      }
      form.dataset.instead = entry.key;
      form.dataset.pressed = entry.pressed;
      form.prepend(button('Throw away what I wrote', async () => { await queue.drop(entry.key); location.href = location.pathname; }));
    }
    scrollTo(0, 0);
  };
  const asks = entry => {
    if (entry.html) {
      show(entry.html, entry);
      return;
    }
    const box = say(`The server does not take what you entered (${entry.status}). It is still kept on this phone. `, 'bad');
    box.append(
      button('Try again', async () => { await queue.keep({ ...entry, state: 'waiting' }); await send(); }),
      button('Throw it away', async () => { await queue.drop(entry.key); location.href = location.pathname; }));
  };

  const send = async () => {
    trouble = await queue.send(user);
    await follow();
  };

  // What was just pressed here may be sent from here, from another page or by the service worker.
  const follow = async () => {
    await drawLine();
    const after = (await queue.all()).find(entry => entry.key === pending?.key);
    if (!pending || !after || after.state === 'waiting') return; // the last await is behind us: no second follower comes in between
    pending = null;
    if (after.state === 'asks') asks(after);
    else if (after.to) location.href = after.to;
    else {
      show(after.html);
      await queue.keep({ ...after, html: null });
    }
  };

  const shrunk = async file => {
    const most = 1600;
    try {
      const picture = await createImageBitmap(file, { imageOrientation: 'from-image' });
      const scale = Math.min(1, most / Math.max(picture.width, picture.height));
      const canvas = Object.assign(document.createElement('canvas'), { width: Math.round(picture.width * scale), height: Math.round(picture.height * scale) });
      canvas.getContext('2d').drawImage(picture, 0, 0, canvas.width, canvas.height);
      const blob = await new Promise(resolve => canvas.toBlob(resolve, 'image/jpeg', 0.8));
      return blob ?? file;
    } catch {
      return file; // not a picture that this browser knows: the server says so
    }
  };
  const withoutFiles = ['take', 'release', 'snooze', 'wake', 'way', 'arrive'];
  const fieldsOf = async (form, pressed) => {
    const fields = [];
    for (const [name, value] of new FormData(form, pressed)) {
      if (name.startsWith('__Req')) continue;
      if (typeof value === 'string') fields.push([name, value]);
      else if (value.size > 0 && !withoutFiles.includes(pressed.value)) {
        const small = await shrunk(value);
        fields.push([name, { bytes: await small.arrayBuffer(), type: small.type, name: value.name }]);
      }
    }
    return fields;
  };

  const newKey = () => crypto.randomUUID().replaceAll('-', '');
  const pressedBefore = new Set();
  document.addEventListener('submit', async event => {
    const form = event.target;
    const by = event.submitter;
    if (!form.dataset.queue || !by || by.value === 'stay') return;
    event.preventDefault();
    const isOneOfMany = Boolean(by.dataset.queueAbout);
    const what = `${by.name} ${by.value}`;
    if (form.dataset.locked || pressedBefore.has(what)) return; // a second tap
    if (isOneOfMany) pressedBefore.add(what);
    else form.dataset.locked = 'yes';
    by.textContent = 'Keeping it…';
    try {
      // A page from the phone's memory bears an old key: each press has one of its own.
      const key = newKey();
      find('[name=Key]', form).value = key;
      const url = new URL(form.action).pathname;
      const entry = {
        key, mark: isOneOfMany ? `${key}-${by.value.split(' ')[0]}` : key, user, kind: form.dataset.queue, url,
        about: by.dataset.queueAbout ?? form.dataset.queueAbout ?? document.title, page: by.dataset.queuePage ?? url,
        act: isOneOfMany ? by.name.toLowerCase() : by.value, tells: 'queueTells' in form.dataset,
        fields: [...await fieldsOf(form, by), ...carried], pressed: Number(form.dataset.pressed ?? Date.now()), state: 'waiting',
      };
      await queue.keep(entry, form.dataset.instead);
      pending = entry;
    } catch (failure) {
      // A full or forbidden store: then only the plain post is left.
      delete form.dataset.queue;
      form.requestSubmit(by);
      return;
    }
    by.textContent = 'Kept on this phone';
    if (!isOneOfMany) {
      form.hidden = true;
      say('Kept on this phone. It is sent when there is signal. ').append(
        link('My work', '/work'), ' · ', link(form.dataset.queueAgain ?? 'The form once more', location.pathname));
    }
    navigator.serviceWorker.ready.then(worker => worker.sync?.register('phone-queue')).catch(() => {});
    await drawLine();
    await send();
  });

  const waits = { take: 'taking', close: 'closing', note: 'a note', release: 'giving back', snooze: 'a snooze', wake: 'the end of a snooze', way: '“on my way”', arrive: '“arrived”', out: 'your time back', back: '“back safe”' };
  const start = async () => {
    const mine = (await queue.all()).filter(entry => entry.user === user);
    const here = mine.filter(entry => entry.page === location.pathname);
    const asking = here.find(entry => entry.state === 'asks');
    const waiting = here.filter(entry => entry.state === 'waiting');
    if (asking) asks(asking);
    else if (waiting.length > 0) say(`Not sent yet, kept on this phone: ${waiting.map(entry => waits[entry.act] ?? entry.about.toLowerCase()).join(', ')}.`);
    for (const entry of mine) {
      if (entry.tells && entry.to === location.pathname + location.search) await queue.keep({ ...entry, tells: false });
    }
    await drawLine();
    await send();
  };

  queue.news?.addEventListener('message', follow);
  addEventListener('online', send);
  addEventListener('offline', drawLine);
  addEventListener('pageshow', event => { if (event.persisted) location.reload(); });
  document.addEventListener('visibilitychange', () => { if (document.visibilityState === 'visible') send(); });
  setInterval(async () => { if (Number(find('[data-kept-line]').dataset.waiting) > 0) send(); }, 15_000);

  navigator.serviceWorker.register('/sw.js').catch(() => {});
  const fill = async () => {
    const worker = await navigator.serviceWorker.ready;
    const files = performance.getEntriesByType('resource').map(file => new URL(file.name)).filter(file => file.origin === location.origin).map(file => file.pathname);
    worker.active.postMessage({ home: location.pathname, fill: [...new Set([...files.filter(file => /^\/(css|js|fonts)\/|^\/favicon/.test(file)), '/manifest.webmanifest', '/icon-192.png'])] });
  };
  if (location.pathname === '/work' || find('[data-keep-home]')) {
    if (document.readyState === 'complete') fill();
    else addEventListener('load', fill);
  }
  start();
})();
