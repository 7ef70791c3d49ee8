package androidx.test.platform.app;

import android.app.Instrumentation;
import android.os.Bundle;

/** Stands in for the class of that name, which Maven Central does not carry; Robolectric calls it. */
public final class InstrumentationRegistry {
  private static Instrumentation instance;

  private InstrumentationRegistry() {}

  public static Instrumentation getInstrumentation() {
    if (instance == null) throw new IllegalStateException("no instrumentation registered");
    return instance;
  }

  public static void registerInstance(Instrumentation instrumentation, Bundle arguments) {
    instance = instrumentation;
  }
}
