// What the person sees while the page has lost its server.
const dialog = document.getElementById('components-reconnect-modal');
dialog.addEventListener('components-reconnect-state-changed', event => {
  const state = event.detail.state;
  dialog.dataset.state = state;
  if (state === 'show' && !dialog.open) dialog.showModal();
  else if (state === 'hide') dialog.close();
  else if (state === 'rejected') location.reload();
});
dialog.querySelector('[data-reconnect]').addEventListener('click', async () => {
  if (!await Blazor.reconnect()) location.reload();
});
dialog.querySelector('[data-reload]').addEventListener('click', () => location.reload());
