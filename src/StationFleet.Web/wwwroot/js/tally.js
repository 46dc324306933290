// Forms that count: the bench counts by keys, the ramp by buttons. Every count is kept in this browser until the server, or the queue of
// the phone, has it: a reload, a crash or a lost connection loses none, and the form's own key keeps one sent twice from counting twice.
// Without this script the fields still work.
const form = document.querySelector('form[data-tally]');
if (form) {
  const store = `tally ${form.dataset.tally}`;
  const find = what => form.querySelector(what);
  const said = find('[data-tally-said]');
  const fields = [...form.querySelectorAll('input[data-key]')];
  const buttons = [...form.querySelectorAll('[data-tally-by]')];
  const presses = [];
  let began = null; // when the counting began, by this phone's clock

  const kept = [...form.elements].filter(field => field.name && !field.name.startsWith('__') && !field.name.startsWith('_handler') && field.type !== 'submit');
  const read = () => { try { return JSON.parse(localStorage.getItem(store) ?? 'null'); } catch { return null; } };
  const keep = () => {
    const values = Object.fromEntries(kept.map(field => [field.name, field.value]));
    try { localStorage.setItem(store, JSON.stringify({ ...values, began })); }
    catch { say('This browser keeps nothing: save before you leave.'); }
  };
  const say = words => { said.textContent = words; };

  const begun = find('[data-tally-began]');
  const startButton = find('[data-tally-start]');
  const start = () => {
    if (!begun || began) return;
    began = Date.now();
    showStart();
  };
  const showStart = () => {
    if (!began) return;
    begun.textContent = `Empty: ${new Date(began).toTimeString().slice(0, 5)} by this phone, when you started.`;
    startButton.hidden = true;
  };

  const restore = () => {
    const draft = read();
    if (!draft) return;
    if (form.dataset.saved.split(' ').includes(draft.Key)) {
      localStorage.removeItem(store);
      return;
    }
    began = draft.began ?? null;
    showStart();
    if (form.dataset.refused) return; // the server's answer holds what was sent
    for (const field of kept) if (draft[field.name] !== undefined) field.value = draft[field.name];
    say('What you counted before is back; it is not saved yet.');
  };

  const count = (field, by) => {
    start();
    field.value = String(Math.max(0, (parseInt(field.value, 10) || 0) + by));
    say(`${field.dataset.name}: ${field.value}`);
    keep();
  };
  const undo = () => {
    const last = presses.pop();
    if (last) count(last.field, -last.by);
    else say('Nothing to take back.');
  };

  restore();
  find('[data-tally-line]').hidden = false;
  const zeros = find('[data-tally-zeros]');
  if (zeros) {
    zeros.hidden = false;
    zeros.addEventListener('click', () => { for (const field of fields) field.value ||= '0'; keep(); say('Zero for the rest.'); });
  }
  find('[data-tally-undo]').addEventListener('click', undo);
  startButton?.addEventListener('click', () => { start(); keep(); say('Counting.'); });
  form.addEventListener('input', () => { start(); keep(); });
  for (const button of buttons) {
    const field = form.elements[button.dataset.tallyFor];
    const by = Number(button.dataset.tallyBy);
    button.hidden = false;
    button.addEventListener('click', () => {
      const before = parseInt(field.value, 10) || 0;
      if (before + by < 0) return;
      presses.push({ field, by });
      count(field, by);
    });
  }
  document.addEventListener('keydown', event => {
    if (fields.length === 0 || event.ctrlKey || event.metaKey || event.altKey) return;
    const into = event.target;
    const isTyping = into.matches('input, select, textarea') && !into.dataset.key;
    if (isTyping) return;
    const field = event.key.length === 1 ? fields.find(one => one.dataset.key === event.key) : null;
    if (field) {
      event.preventDefault();
      presses.push({ field, by: 1 });
      count(field, 1);
    } else if (event.key === 'Backspace' && !into.matches('input')) {
      event.preventDefault();
      undo();
    }
  });

  // A span, not an instant: the server's clock decides. What the phone's queue holds needs no second copy here.
  form.addEventListener('submit', () => {
    if (!begun) return;
    find('[data-tally-seconds]').value = began ? String(Math.max(1, Math.round((Date.now() - began) / 1000))) : '';
    const sent = find('[name=Key]');
    const news = 'BroadcastChannel' in self ? new BroadcastChannel('phone-queue') : null;
    news?.addEventListener('message', async () => {
      if ((await self.phoneQueue.all()).some(entry => entry.key === sent.value)) localStorage.removeItem(store);
    });
  });
}
