import './style/tokens.css';
import './style/base.css';
import './style/print.css';
import { mount } from 'svelte';
import App from './App.svelte';
import { warm } from './engine/client';
import { sync } from './job/sync.svelte';
import { route } from './route.svelte';
import { newer } from './shell/newer.svelte';

route.listen();
sync.start();
warm();

const target = document.getElementById('app');
if (target) mount(App, { target });
// After the first screen: the app's files must not compete with what is needed now.
addEventListener('load', () => setTimeout(() => newer.start(), 1000));
