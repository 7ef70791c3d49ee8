package androidx.test.runner.intent;

import android.app.Instrumentation;
import android.content.Intent;

/** Stands in for the class of that name, which Maven Central does not carry; Robolectric calls it. */
public interface IntentStubber {
  Instrumentation.ActivityResult getActivityResultForIntent(Intent intent);
}
