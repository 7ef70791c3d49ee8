package androidx.test.internal.runner.intent;

import android.content.Intent;
import androidx.test.runner.intent.IntentMonitor;

/** Stands in for the class of that name, which Maven Central does not carry; Robolectric calls it. */
public final class IntentMonitorImpl implements IntentMonitor {
  public void signalIntent(Intent intent) {}
}
