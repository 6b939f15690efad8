import './design/faces.css';
import './design/tokens.css';
import './design/base.css';
import { mount } from 'svelte';
import App from './App.svelte';
import { hasShell } from './bridge/bridge';

// `npm run dev` in a browser: the invented job stands in for the core. Not in the built app.
if (import.meta.env.DEV && !hasShell()) {
  const { standIn } = await import('./bridge/mock/stand-in');
  standIn();
}

const target = document.getElementById('app');
if (target) mount(App, { target });
